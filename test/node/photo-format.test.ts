import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { beginsAsPhoto } from '../../src/node/photo-format.js';

const flat = sharp({ create: { width: 8, height: 8, channels: 3, background: '#2a3a63' } });
const fixture = fileURLToPath(new URL('../fixtures/stripes-srgb.heic', import.meta.url));

describe('beginsAsPhoto', () => {
  it.each([
    ['JPEG', () => flat.clone().jpeg().toBuffer()],
    ['PNG', () => flat.clone().png().toBuffer()],
    ['WebP', () => flat.clone().webp().toBuffer()],
    ['lossless WebP', () => flat.clone().webp({ lossless: true }).toBuffer()],
    ['TIFF', () => flat.clone().tiff().toBuffer()],
    ['BigTIFF', () => flat.clone().tiff({ bigtiff: true }).toBuffer()],
    ['AVIF', () => flat.clone().avif({ effort: 0 }).toBuffer()],
    ['HEIC', () => readFile(fixture)],
  ])('knows a %s as its encoder writes it', async (_, encoded) => {
    expect(beginsAsPhoto(await encoded())).toBe(true);
  });

  it.each([
    ['a GIF', () => flat.clone().gif().toBuffer()],
    ['a drawing', () => Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>')],
    ['a drawing after a comment', () => Buffer.from('<!-- RIFF....WEBP --><svg/>')],
    ['a sound', () => Buffer.from('RIFF\0\0\0\0WAVEfmt ')],
    ['a document', () => Buffer.from('%PDF-1.7')],
    ['words', () => Buffer.from('IIII MM ftyp')],
    ['nothing', () => Buffer.alloc(0)],
    ['one byte', () => Buffer.from([0xff])],
  ])('refuses %s', async (_, encoded) => {
    expect(beginsAsPhoto(await encoded())).toBe(false);
  });
});
