import type { Decoded } from 'heic-decode';
import sharp, { type Sharp } from 'sharp';
import type { Warning } from '../index.js';
import { codedColourOfHeif } from './heif-colour.js';
import { isSrgbProfile } from './srgb-profile.js';
import { tiffWithProfile } from './tiff-with-profile.js';

const DISPLAY_P3_PRIMARIES = 12;
const PLAIN_PRIMARIES = [1, 2, DISPLAY_P3_PRIMARIES];
const HIGH_RANGE_TRANSFERS = [16, 18];

/**
 * Decodes HEVC in a HEIC file, which sharp's prebuilt binary leaves out. The decoder is WebAssembly and is loaded only here.
 * The picture comes out upright: the container's own turn and mirror are applied while decoding, so the EXIF
 * orientation must not be applied again.
 *
 * @param page which of the file's top-level pictures, from 0
 * @param icc the embedded profile, or null
 * @returns a sharp pipeline that yields sRGB, and what could not be honoured. Throws when the file is damaged.
 */
export async function decodeHeic(
  file: Uint8Array,
  page: number,
  icc: Uint8Array | null,
): Promise<{ pipeline: Sharp; warnings: Warning[] }> {
  const { width, height, data } = await withoutDecoderChatter(() => decodePage(file, page));
  const rgba = sharp(data, { raw: { width, height, channels: 4 } }).flatten({ background: '#ffffff' });
  const coded = icc === null ? codedColourOfHeif(file) : null;
  const profile = coded?.primaries === DISPLAY_P3_PRIMARIES ? await displayP3Profile() : icc;
  const odd =
    coded !== null &&
    (!PLAIN_PRIMARIES.includes(coded.primaries) || HIGH_RANGE_TRANSFERS.includes(coded.transfer));
  const warnings = odd
    ? [
        {
          code: 'colour-space-ignored',
          message: `The photo's colours are coded in an unusual way (primaries ${coded.primaries}, curve ${coded.transfer}) and were read as ordinary ones, so they are approximate. Widths are as good as ever.`,
        },
      ]
    : [];
  if (profile === null || isSrgbProfile(profile)) return { pipeline: rgba, warnings };
  const rgb = await rgba.raw().toBuffer();
  return { pipeline: sharp(tiffWithProfile(rgb, width, height, profile)), warnings };
}

/** sharp carries a Display P3 profile to write with; writing one pixel brings it out. */
async function displayP3Profile(): Promise<Uint8Array> {
  const dot = sharp({ create: { width: 1, height: 1, channels: 3, background: '#000000' } });
  const { icc } = await sharp(await dot.withIccProfile('p3').png().toBuffer()).metadata();
  if (!icc) throw new Error('the Display P3 profile is missing from the picture library');
  return icc;
}

async function decodePage(file: Uint8Array, page: number): Promise<Decoded> {
  const { default: heicDecode } = await import('heic-decode');
  const pictures = await heicDecode.all({ buffer: file });
  try {
    return await (pictures[page] ?? pictures[0]).decode();
  } finally {
    pictures.dispose();
  }
}

/**
 * The decoder prints its own remarks on standard output when a file is damaged; they would spoil what a program reads there.
 * The damage itself arrives as an exception.
 */
async function withoutDecoderChatter<T>(work: () => Promise<T>): Promise<T> {
  const { log } = console;
  console.log = (...words: unknown[]) => {
    if (!DECODER_REMARK.test(String(words[0]))) log(...words);
  };
  try {
    return await work();
  } finally {
    console.log = log;
  }
}

const DECODER_REMARK = /^(Decoding image failed|Could not (create|parse|get)|Error loading image ids)/;
