import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp, { type Sharp } from 'sharp';

/** A whole file that cases are made from. */
export interface WholeFile {
  /** Its ending, which names its format. */
  readonly ending: string;
  readonly bytes: Buffer;
}

const inProject = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));

/**
 * Every format that is read: a picture just large enough to be taken (2000 x 1500), and one too small, which costs little and
 * still goes through the reading of its header.
 */
export async function wholeFiles(): Promise<WholeFile[]> {
  const large = striped(2000, 1500);
  const small = striped(320, 240);
  const encoders: readonly [string, (picture: Sharp) => Sharp][] = [
    ['jpg', (p) => p.jpeg({ quality: 60 })],
    ['jpg', (p) => p.jpeg({ quality: 60, progressive: true })],
    [
      'jpg',
      (p) =>
        p
          .withIccProfile('p3')
          .withExif({ IFD0: { Make: 'ticking' } })
          .jpeg({ quality: 50 }),
    ],
    ['png', (p) => p.png({ compressionLevel: 6 })],
    ['png', (p) => p.png({ palette: true, progressive: true })],
    ['webp', (p) => p.webp({ quality: 50, effort: 0 })],
    ['webp', (p) => p.webp({ lossless: true, effort: 0 })],
    ['tif', (p) => p.tiff({ compression: 'lzw' })],
    ['tif', (p) => p.tiff({ compression: 'jpeg', tile: true })],
    ['avif', (p) => p.avif({ quality: 30, effort: 0 })],
  ];
  const files = await Promise.all(
    encoders.flatMap(([ending, encode]) =>
      [large, small].map(async (picture) => ({ ending, bytes: await encode(picture()).toBuffer() })),
    ),
  );
  const heic = ['stripes-srgb.heic', 'stripes-p3-turned.heic', 'stripes-p3-coded.heic'].map(async (name) => ({
    ending: 'heic',
    bytes: await readFile(inProject(`test/fixtures/${name}`)),
  }));
  return [...files, ...(await Promise.all(heic))];
}

function striped(width: number, height: number): () => Sharp {
  const data = Buffer.alloc(3 * width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const level = (x >> 4) % 5 < 2 ? 60 : 200;
      data.fill(level, 3 * (y * width + x), 3 * (y * width + x) + 3);
    }
  }
  return () => sharp(data, { raw: { width, height, channels: 3 } });
}
