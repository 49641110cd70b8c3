import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { focalLengthFromExif } from '../../src/node/exif-focal-length.js';

/** A block as cameras write it, in either byte order: one directory that points to the Exif directory. */
function block(little: boolean, focal: number, type = 3): Uint8Array {
  const bytes = new Uint8Array(8 + 18 + 18);
  const view = new DataView(bytes.buffer);
  bytes.set(little ? [0x49, 0x49, 42, 0] : [0x4d, 0x4d, 0, 42]);
  view.setUint32(4, 8, little);
  const directory = (at: number, tag: number, kind: number, value: number) => {
    view.setUint16(at, 1, little);
    view.setUint16(at + 2, tag, little);
    view.setUint16(at + 4, kind, little);
    view.setUint32(at + 6, 1, little);
    if (kind === 3) view.setUint16(at + 10, value, little);
    else view.setUint32(at + 10, value, little);
  };
  directory(8, 0x8769, 4, 26);
  directory(26, 0xa405, type, focal);
  return bytes;
}
const withMark = (bytes: Uint8Array) => new Uint8Array([0x45, 0x78, 0x69, 0x66, 0, 0, ...bytes]);

describe('focalLengthFromExif', () => {
  it.each([true, false])('reads tag 0xA405, little-endian %s', (little) => {
    expect(focalLengthFromExif(block(little, 26))).toBe(26);
    expect(focalLengthFromExif(withMark(block(little, 77)))).toBe(77);
    expect(focalLengthFromExif(block(little, 13, 4))).toBe(13);
  });

  it('takes 0 for unknown, as the standard has it', () => {
    expect(focalLengthFromExif(block(true, 0))).toBeNull();
  });

  it('gives up quietly on what it cannot follow', () => {
    const whole = block(true, 26);
    for (let length = 0; length < whole.length; length++) {
      expect(() => focalLengthFromExif(whole.subarray(0, length))).not.toThrow();
    }
    expect(focalLengthFromExif(whole.subarray(0, 30))).toBeNull();
    expect(focalLengthFromExif(new Uint8Array(64).fill(255))).toBeNull();
  });

  it('agrees with the block another library writes', async () => {
    const dot = sharp({ create: { width: 8, height: 8, channels: 3, background: '#000' } });
    const jpeg = await dot
      .withExif({ IFD2: { FocalLengthIn35mmFilm: '28' } })
      .jpeg()
      .toBuffer();
    const { exif } = await sharp(jpeg).metadata();
    expect(focalLengthFromExif(exif as Buffer)).toBe(28);
  });
});
