import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { isSrgbProfile } from '../../src/node/srgb-profile.js';

async function profile(name: string): Promise<Uint8Array> {
  const dot = sharp({ create: { width: 1, height: 1, channels: 3, background: '#000000' } });
  const { icc } = await sharp(await dot.withIccProfile(name).jpeg().toBuffer()).metadata();
  return icc as Buffer;
}

describe('isSrgbProfile', () => {
  it('knows sRGB from Display P3 and from inks', async () => {
    expect(isSrgbProfile(await profile('srgb'))).toBe(true);
    expect(isSrgbProfile(await profile('p3'))).toBe(false);
    expect(isSrgbProfile(await profile('cmyk'))).toBe(false);
  });

  it('does not go by the name', async () => {
    const icc = Buffer.from(await profile('srgb'));
    const tags = icc.readUInt32BE(128);
    for (let k = 0; k < tags; k++) {
      const entry = 132 + 12 * k;
      if (icc.toString('latin1', entry, entry + 4) === 'rXYZ') {
        icc.writeInt32BE(Math.round(0.5151 * 65536), icc.readUInt32BE(entry + 4) + 8);
      }
    }
    expect(isSrgbProfile(icc)).toBe(false);
  });

  it('leaves a profile cut short to the full conversion', async () => {
    const icc = await profile('srgb');
    for (const length of [0, 100, 131, 200]) expect(isSrgbProfile(icc.subarray(0, length))).toBe(false);
  });
});
