import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { PhotoFile } from '../../src/node/read-photo.js';
import { readPhoto } from '../../src/node/read-photo.js';

const fixture = (name: string): string => fileURLToPath(new URL(`../fixtures/${name}`, import.meta.url));

const WIDTH = 1600;
const HEIGHT = 2000;
const CHIPS = [
  [47, 62, 110],
  [240, 232, 212],
  [200, 134, 47],
  [90, 90, 90],
] as const;

/** Four unlike quarters: no turn or mirror leaves them in place. */
function quarters(width = WIDTH, height = HEIGHT): Uint8Array {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      data.set(CHIPS[(y < height / 2 ? 0 : 2) + (x < width / 2 ? 0 : 1)], 3 * (y * width + x));
    }
  }
  return data;
}
const rawOf = (data: Uint8Array, width = WIDTH, height = HEIGHT) =>
  sharp(data, { raw: { width, height, channels: 3 } });

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'read-photo-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function read(name: string, bytes: Uint8Array): Promise<PhotoFile> {
  await writeFile(join(folder, name), bytes);
  const outcome = await readPhoto(join(folder, name));
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.refusal));
  return outcome.value;
}
async function refusalOf(path: string) {
  const outcome = await readPhoto(path);
  if (outcome.ok) throw new Error(`${path} was read`);
  return outcome.refusal;
}
/** Colours in the middle of the four quarters, in reading order. */
function chipsOf({ picture: { width, height, channels, data } }: PhotoFile): number[][] {
  return [
    [0.25, 0.25],
    [0.75, 0.25],
    [0.25, 0.75],
    [0.75, 0.75],
  ].map(([x, y]) => {
    const at = channels * (Math.floor(y * height) * width + Math.floor(x * width));
    return [...data.subarray(at, at + 3)];
  });
}
function expectChips(photo: PhotoFile, within: number, chips: readonly (readonly number[])[] = CHIPS): void {
  expect(photo.picture.channels).toBe(3);
  chipsOf(photo).forEach((chip, k) => {
    chip.forEach((value, c) => {
      expect(Math.abs(value - chips[k][c]), `quarter ${k}: ${chip}`).toBeLessThanOrEqual(within);
    });
  });
}

describe('readPhoto: formats', () => {
  it.each([
    ['png', () => rawOf(quarters()).png({ compressionLevel: 1 })],
    ['jpg', () => rawOf(quarters()).jpeg({ quality: 95 })],
    ['webp', () => rawOf(quarters()).webp({ effort: 0, quality: 95 })],
    ['tiff', () => rawOf(quarters()).tiff({ compression: 'lzw' })],
    ['avif', () => rawOf(quarters()).avif({ effort: 0, quality: 90 })],
  ])('reads %s', async (ext, encode) => {
    const photo = await read(`plain.${ext}`, await encode().toBuffer());
    expect([photo.widthPx, photo.heightPx, photo.photoPerPicture]).toEqual([WIDTH, HEIGHT, 1]);
    expectChips(photo, 3);
  });

  it('reads 16 bits, grey, CMYK and lays alpha on white', async () => {
    const deep = rawOf(quarters()).toColourspace('rgb16').png({ compressionLevel: 1 });
    expectChips(await read('deep.png', await deep.toBuffer()), 1);

    const grey = await rawOf(quarters()).toColourspace('b-w').png({ compressionLevel: 1 }).toBuffer();
    expect((await sharp(grey).metadata()).channels).toBe(1);
    for (const [r, g, b] of chipsOf(await read('grey.png', grey))) expect([g, b]).toEqual([r, r]);

    const cmyk = await rawOf(quarters()).toColourspace('cmyk').withIccProfile('cmyk').jpeg().toBuffer();
    expect((await sharp(cmyk).metadata()).channels).toBe(4);
    // The inks' gamut is smaller and the conversion perceptual: the colours move a little, evenly.
    expectChips(await read('cmyk.jpg', cmyk), 30);

    const half = await rawOf(quarters()).ensureAlpha(0.5).png({ compressionLevel: 1 }).toBuffer();
    const onWhite = CHIPS.map((chip) => chip.map((v) => (v + 255) / 2));
    expectChips(await read('half.png', half), 2, onWhite);
  });

  it('takes the first frame of an animation', async () => {
    const second = new Uint8Array(WIDTH * HEIGHT * 3);
    const both = Buffer.concat([quarters(), second]);
    const animated = await sharp(both, {
      raw: { width: WIDTH, height: 2 * HEIGHT, channels: 3, pageHeight: HEIGHT },
    })
      .webp({ effort: 0, quality: 95 })
      .toBuffer();
    expect((await sharp(animated).metadata()).pages).toBe(2);
    expectChips(await read('animated.webp', animated), 4);
  });
});

describe('readPhoto: orientation', () => {
  // Exif 2.32, tag 274: the side of the scene on which the stored picture's first row and first column lie.
  const SIDES: Readonly<Record<number, (u: number, v: number, w: number, h: number) => [number, number]>> = {
    1: (u, v) => [u, v],
    2: (u, v, w) => [w - 1 - u, v],
    3: (u, v, w, h) => [w - 1 - u, h - 1 - v],
    4: (u, v, _, h) => [u, h - 1 - v],
    5: (u, v) => [v, u],
    6: (u, v, w) => [w - 1 - v, u],
    7: (u, v, w, h) => [w - 1 - v, h - 1 - u],
    8: (u, v, _, h) => [v, h - 1 - u],
  };
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('undoes orientation %i', async (orientation) => {
    const upright = quarters();
    const [w, h] = orientation > 4 ? [HEIGHT, WIDTH] : [WIDTH, HEIGHT];
    const stored = new Uint8Array(w * h * 3);
    for (let v = 0; v < h; v++) {
      for (let u = 0; u < w; u++) {
        const [x, y] = SIDES[orientation](u, v, WIDTH, HEIGHT);
        const at = 3 * (y * WIDTH + x);
        const to = 3 * (v * w + u);
        stored[to] = upright[at];
        stored[to + 1] = upright[at + 1];
        stored[to + 2] = upright[at + 2];
      }
    }
    const png = await rawOf(stored, w, h)
      .withMetadata({ orientation })
      .png({ compressionLevel: 1 })
      .toBuffer();
    const photo = await read(`turned-${orientation}.png`, png);
    expect([photo.widthPx, photo.heightPx]).toEqual([WIDTH, HEIGHT]);
    expectChips(photo, 0);
  });
});

/** Display P3 to sRGB by the matrices of CSS Color 4 (both spaces share the sRGB curve and the D65 white). */
function srgbFromP3(p3: readonly number[]): number[] {
  const linear = p3.map((v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
  return [
    [1.2249401762805598, -0.2249401762805598, 0],
    [-0.04205695470968816, 1.0420569547096881, 0],
    [-0.01963755459033443, -0.07863604555063188, 1.0982736001409663],
  ].map((row) => {
    const v = row.reduce((sum, m, k) => sum + m * linear[k], 0);
    const encoded = v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055;
    return 255 * Math.min(1, Math.max(0, encoded));
  });
}

describe('readPhoto: colour profiles', () => {
  it('converts Display P3 back to the sRGB it was made from', async () => {
    const p3 = await rawOf(quarters()).withIccProfile('p3').png({ compressionLevel: 1 }).toBuffer();
    expect([...(await sharp(p3, { ignoreIcc: true }).raw().toBuffer()).subarray(0, 3)]).not.toEqual([
      ...CHIPS[0],
    ]);
    expectChips(await read('p3.png', p3), 2);
  });

  it('gives the same with and without a profile that says sRGB', async () => {
    const labelled = await rawOf(quarters()).withIccProfile('srgb').png({ compressionLevel: 1 }).toBuffer();
    expect((await sharp(labelled).metadata()).icc).toBeDefined();
    expectChips(await read('srgb.png', labelled), 0);
  });
});

describe('readPhoto: HEIC', () => {
  const [indigo, ivory, ochre] = [
    [47, 62, 110],
    [240, 232, 212],
    [200, 134, 47],
  ];
  const at = ({ picture: { width, data } }: PhotoFile, x: number, y: number) => [
    ...data.subarray(3 * (y * width + x), 3 * (y * width + x) + 3),
  ];

  it.each([
    ['stripes-srgb.heic', (c: readonly number[]) => [...c], 26],
    ['stripes-p3-turned.heic', srgbFromP3, 26],
    ['stripes-p3-coded.heic', srgbFromP3, null],
  ] as const)('reads %s upright and in sRGB', async (name, srgb, focal) => {
    const outcome = await readPhoto(fixture(name));
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const photo = outcome.value;
    expect([photo.widthPx, photo.heightPx, photo.focal35Mm, photo.warnings]).toEqual([1500, 2000, focal, []]);
    for (const [colour, x, y] of [
      [ochre, 100, 100],
      [indigo, 60, 1500],
      [ivory, 240, 1500],
    ] as const) {
      const seen = at(photo, x, y);
      srgb(colour).forEach((value, c) => {
        // A dark channel of a saturated colour is steep in the sRGB curve: HEVC's rounding shows there.
        expect(Math.abs(seen[c] - value), `${seen} for ${srgb(colour)}`).toBeLessThanOrEqual(
          value < 20 ? 6 : 2,
        );
      });
    }
  });
});

describe('readPhoto: size', () => {
  it('takes a megapixel and no less', async () => {
    const just = await rawOf(quarters(1250, 800), 1250, 800).png({ compressionLevel: 1 }).toBuffer();
    expect((await read('just.png', just)).widthPx).toBe(1250);
    const under = await rawOf(quarters(1249, 800), 1249, 800).png({ compressionLevel: 1 }).toBuffer();
    await writeFile(join(folder, 'under.png'), under);
    expect(await refusalOf(join(folder, 'under.png'))).toMatchObject({
      reason: 'unreadable',
      found: expect.stringMatching(/1249 x 800 = 1\.0 megapixels, at least 1/),
    });
  });

  it('shrinks a very large photo and says by how much', async () => {
    const blank = (width: number, height: number) =>
      sharp({ create: { width, height, channels: 3, background: '#2f3e6e' } }).jpeg({ quality: 50 });
    const photo = await read('large.jpg', await blank(10000, 5000).toBuffer());
    expect([photo.widthPx, photo.heightPx]).toEqual([10000, 5000]);
    const { width, height } = photo.picture;
    expect(width * height).toBeLessThanOrEqual(25e6);
    expect(width * height).toBeGreaterThan(24e6);
    expect(photo.photoPerPicture).toBe(10000 / width);
    expect(5000 / height / photo.photoPerPicture).toBeCloseTo(1, 5);

    await writeFile(join(folder, 'huge.jpg'), await blank(10001, 10000).toBuffer());
    expect((await refusalOf(join(folder, 'huge.jpg'))).found).toMatch(/100\.0 megapixels, at most 100/);
  });
});

describe('readPhoto: refusals', () => {
  it('names what is wrong with the path', async () => {
    await mkdir(join(folder, 'album'));
    await writeFile(join(folder, 'empty.jpg'), '');
    await writeFile(join(folder, 'words.jpg'), 'not a picture');
    await writeFile(
      join(folder, 'drawing.jpg'),
      '<svg xmlns="http://www.w3.org/2000/svg" width="3000" height="3000"/>',
    );
    for (const [name, found] of [
      ['missing.jpg', /There is no file/],
      ['album', /is a folder/],
      ['empty.jpg', /is empty/],
      ['words.jpg', /is not a photo/],
      ['drawing.jpg', /is not a photo/],
    ] as const) {
      const refusal = await refusalOf(join(folder, name));
      expect(refusal.reason).toBe('unreadable');
      expect(refusal.found).toMatch(found);
      expect(refusal.remedy).not.toBe('');
    }
  });

  it.runIf(existsSync('/dev/zero'))('refuses a device, which may have no end', async () => {
    expect((await refusalOf('/dev/zero')).found).toMatch(/is a device/);
  });

  it.each(['jpg', 'png', 'webp', 'tiff', 'avif', 'heic'])('refuses a %s that was cut short', async (ext) => {
    const noise = new Uint8Array(WIDTH * HEIGHT * 3).map((_, k) => (k * 7919) >> 5);
    const whole =
      ext === 'heic'
        ? await readFile(fixture('stripes-srgb.heic'))
        : await {
            jpg: () => rawOf(noise).jpeg(),
            png: () => rawOf(noise).png({ compressionLevel: 1 }),
            webp: () => rawOf(noise).webp({ effort: 0 }),
            tiff: () => rawOf(noise).tiff({ compression: 'none' }),
            avif: () => rawOf(quarters()).avif({ effort: 0 }),
          }
            [ext as 'jpg']()
            .toBuffer();
    const log = vi.spyOn(console, 'log').mockImplementation(() => {});
    for (const part of [0.95, 0.5, 0.02]) {
      const path = join(folder, `cut-${part}.${ext}`);
      await writeFile(path, whole.subarray(0, Math.floor(whole.length * part)));
      expect((await refusalOf(path)).reason).toBe('unreadable');
    }
    expect(log).not.toHaveBeenCalled();
    log.mockRestore();
  });
});
