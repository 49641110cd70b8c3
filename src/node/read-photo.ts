import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { basename } from 'node:path';
import sharp, { type Metadata, type Sharp } from 'sharp';
import { callback, checkAll, optional, text } from '../core/base/expectation.js';
import { type Outcome, type Photo, raster, refuse, succeed, type Warning } from '../index.js';
import { decodeHeic } from './decode-heic.js';
import { focalLengthFromExif } from './exif-focal-length.js';
import { beginsAsPhoto } from './photo-format.js';
import { LEAST_PX, MOST_PX, workingSize } from './picture-size.js';
import { isSrgbProfile } from './srgb-profile.js';

/** A photo with what is known of the file it came from. */
export interface PhotoFile extends Photo {
  /** Name of the file, without its folder. */
  readonly file: string;
  /** Of the file's bytes, lower-case hex. */
  readonly sha256: string;
  readonly warnings: readonly Warning[];
}

const FORMATS: readonly string[] = ['jpeg', 'png', 'webp', 'tiff', 'heif'];
const ACCEPTED = 'give a JPEG, PNG, WebP, TIFF, AVIF or HEIC photo';
/** No photo of 100 megapixels is larger, whatever its format: 16 bits and an alpha channel come to 800 MB. */
const MOST_BYTES = 2 ** 30;

/**
 * Reads a photo from disk: upright (all eight EXIF orientations), in 8-bit sRGB (an embedded profile is converted, alpha
 * laid on white), the first frame of an animation; shrunk when it has over 25 megapixels. Never throws for a bad
 * file: it is refused as 'unreadable' with the reason. `onDecoding` is told when other threads have begun to decode.
 */
export async function readPhoto(path: string, onDecoding?: () => void): Promise<Outcome<PhotoFile>> {
  checkAll({ path: [path, text], onDecoding: [onDecoding, optional(callback)] });
  const name = basename(path);
  const loaded = await load(path, name);
  if (!loaded.ok) return loaded;
  const bytes = loaded.value;
  const meta = beginsAsPhoto(bytes)
    ? await sharp(bytes, { limitInputPixels: false })
        .metadata()
        .catch(() => null)
    : null;
  if (meta === null || !FORMATS.includes(meta.format)) {
    return refuse('unreadable', `${name} is not a photo that can be read`, ACCEPTED);
  }
  const upright = isHevc(meta) ? { width: meta.width, height: meta.height } : meta.autoOrient;
  const sizeRefusal = checkSize(name, upright.width, upright.height);
  if (sizeRefusal) return sizeRefusal;
  try {
    const { width, height } = workingSize(upright.width, upright.height);
    const { pipeline, warnings } = await decoder(bytes, meta);
    if (width < upright.width) pipeline.resize(width, height, { fit: 'fill', kernel: 'mitchell' });
    const decoding = pipeline
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    onDecoding?.();
    // On this thread while others decode.
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const { data, info } = await decoding;
    return succeed({
      // As a plain array: loops that met Buffers and plain arrays by turns would be compiled twice, and worse.
      picture: raster(info.width, info.height, info.channels, plainBytes(data)),
      photoPerPicture: upright.width / info.width,
      widthPx: upright.width,
      heightPx: upright.height,
      focal35Mm: meta.exif ? focalLengthFromExif(meta.exif) : null,
      file: name,
      sha256,
      warnings,
    });
  } catch {
    return refuse(
      'unreadable',
      `${name} is damaged or cut short`,
      'copy it again from the phone or camera, or take another photo',
    );
  }
}

const plainBytes = ({ buffer, byteOffset, length }: Buffer<ArrayBuffer>): Uint8Array =>
  new Uint8Array(buffer, byteOffset, length);

async function load(path: string, name: string): Promise<Outcome<Uint8Array>> {
  try {
    const facts = await stat(path);
    if (facts.isCharacterDevice() || facts.isBlockDevice()) {
      return refuse('unreadable', `${path} is a device`, ACCEPTED);
    }
    // A pipe tells no size.
    const bytes = facts.size > MOST_BYTES ? null : await readFile(path);
    if (bytes?.length === 0) return refuse('unreadable', `${name} is empty`, ACCEPTED);
    if (bytes === null || bytes.length > MOST_BYTES) {
      return refuse('unreadable', `${name} is over 1 GB`, 'save it as a JPEG of at most 100 megapixels');
    }
    return succeed(bytes);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return refuse('unreadable', `There is no file ${path}`, 'check the name and the folder');
    }
    if (code === 'EISDIR') return refuse('unreadable', `${path} is a folder`, 'name one photo in it');
    if (code === 'ERR_FS_FILE_TOO_LARGE') {
      return refuse('unreadable', `${name} is over 2 GB`, 'save it as a JPEG of at most 100 megapixels');
    }
    return refuse('unreadable', `${path} cannot be opened (${code ?? error})`, 'check that you may read it');
  }
}

const isHevc = (meta: Metadata): boolean => meta.format === 'heif' && meta.compression === 'hevc';

function checkSize(name: string, width: number, height: number): Outcome<never> | null {
  const megapixels = (width * height) / 1e6;
  const found = `${name} has ${width} x ${height} = ${megapixels.toFixed(1)} megapixels`;
  if (width * height < LEAST_PX) {
    return refuse(
      'unreadable',
      `${found}, at least 1 is needed for a ruler's millimetres to show`,
      'send the photo itself, not a preview or a copy from a chat',
    );
  }
  if (width * height > MOST_PX) {
    return refuse('unreadable', `${found}, at most 100 are taken`, 'shrink it first');
  }
  return null;
}

/**
 * The file as a sharp pipeline that is upright and in sRGB. Damage beyond a harmless warning makes it throw: phones write
 * odd but whole JPEGs, so 'warning' would refuse good photos.
 */
async function decoder(
  bytes: Uint8Array,
  meta: Metadata,
): Promise<{ pipeline: Sharp; warnings: readonly Warning[] }> {
  const page = meta.format === 'heif' ? (meta.pagePrimary ?? 0) : 0;
  if (isHevc(meta)) return decodeHeic(bytes, page, meta.icc ?? null);
  const pipeline = sharp(bytes, {
    failOn: 'error',
    limitInputPixels: false,
    page,
    ignoreIcc: meta.icc !== undefined && isSrgbProfile(meta.icc),
  }).autoOrient();
  return { pipeline, warnings: [] };
}
