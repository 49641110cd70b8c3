import { describe, expect, it } from 'vitest';
import { linearFromByte } from '../../../src/core/colour/srgb.js';
import type { Raster } from '../../../src/core/raster/raster.js';
import { plainScene, stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import type { PlacedReference, Scene } from '../../support/photo-painter/scene.js';

const linearAt = (picture: Raster<Uint8Array>, x: number, y: number, channel: number): number =>
  linearFromByte[picture.data[(y * picture.width + x) * 3 + channel]];

const TILTED: Scene = plainScene({
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 9 },
    { colour: '#ebe2cb', widthMm: 4 },
    { colour: '#bd8738', widthMm: 6 },
  ]),
  camera: { ...plainScene().camera, tiltDeg: [4, -6], rollDeg: 17, aimMm: [3, 8], k1: 0.02 },
  light: { ...plainScene().light, gradient: [0.2, 0.1], vignette: 0.1 },
});

describe('a painted photo', () => {
  it('comes out the same from the same seed, and not from another', () => {
    const uneven = {
      ...TILTED,
      cloth: {
        ...stripes(
          [
            { colour: '#2a3a63', widthMm: 9 },
            { colour: '#ebe2cb', widthMm: 4 },
          ],
          0.05,
        ),
      },
      sensor: { ...TILTED.sensor, noiseLevels: 2 },
    };
    const first = paintPhoto(uneven);
    expect(paintPhoto(uneven)).toEqual(first);
    expect(paintPhoto({ ...uneven, seed: 12 }).picture.data).not.toEqual(first.picture.data);
  });

  it('halves its linear light at half the exposure', () => {
    const full = paintPhoto(TILTED).picture;
    const half = paintPhoto({ ...TILTED, light: { ...TILTED.light, exposure: 0.5 } }).picture;
    for (let i = 0; i < full.data.length; i += 97) {
      const expected = linearFromByte[full.data[i]] / 2;
      // Half an 8-bit level in each of the two.
      expect(Math.abs(linearFromByte[half.data[i]] - expected)).toBeLessThan(0.006);
    }
  });

  it('gives each band the share of a row that its width demands', () => {
    // 80 mm wide, bands of 7 and 5 mm from u = 0 in both directions; the row's mean is linear in the shares.
    const { picture } = paintPhoto(plainScene());
    const dark = linearFromByte[0x2a];
    const light = linearFromByte[0xeb];
    let sum = 0;
    for (let x = 0; x < 400; x++) sum += linearAt(picture, x, 150, 0);
    const lightShare = (sum / 400 - dark) / (light - dark);
    // From -40 to 40: whole repeats cover -36 to 36, then -40 to -36 is light and 36 to 40 dark.
    expect(lightShare * 80).toBeCloseTo(6 * 5 + 4, 1);
  });

  it('has each band edge where the truth homography puts it', () => {
    const scene: Scene = { ...TILTED, sensor: { ...TILTED.sensor, blurPx: 0.8 } };
    const { picture } = paintPhoto(scene);
    const camera = pinholeCamera(scene.camera);
    let seen = 0;
    // From dark to light where the second band starts, 9 mm into each repeat of 19.
    for (let u = 9 - 19 * 3; u < 60; u += 19)
      for (let v = -30; v < 50; v += 3.7) {
        const levels = Array.from({ length: 41 }, (_, i) => {
          const [x, y] = camera.photoFromCloth(u + (i - 20) * 0.05, v);
          const inside = x > 1 && y > 1 && x < picture.width - 2 && y < picture.height - 2;
          return inside ? bilinear(picture, x, y) : Number.NaN;
        });
        if (levels.some(Number.isNaN)) continue;
        seen++;
        const middle = (levels[0] + levels[40]) / 2;
        const above = levels.findIndex((level) => level > middle);
        const part = (middle - levels[above - 1]) / (levels[above] - levels[above - 1]);
        // The light's own slope and 8 bits leave a few hundredths of a pixel, at 5 px a mm.
        expect(Math.abs((above - 1 + part - 20) * 0.05)).toBeLessThan(0.02);
      }
    expect(seen).toBeGreaterThan(30);
  });

  it('is the mirror image when cloth, camera and light are mirrored', () => {
    const plain = paintPhoto(TILTED).picture;
    if (TILTED.cloth.ground.kind !== 'striped') throw new Error('expected stripes');
    const { camera, light } = TILTED;
    const mirrored = paintPhoto({
      ...TILTED,
      cloth: stripes([...TILTED.cloth.ground.bands].reverse()),
      camera: {
        ...camera,
        tiltDeg: [camera.tiltDeg[0], -camera.tiltDeg[1]],
        rollDeg: -camera.rollDeg,
        aimMm: [-camera.aimMm[0], camera.aimMm[1]],
      },
      light: { ...light, gradient: [-light.gradient[0], light.gradient[1]] },
    }).picture;
    let worst = 0;
    for (let y = 0; y < plain.height; y++)
      for (let x = 0; x < plain.width; x++)
        for (let c = 0; c < 3; c++) {
          const here = plain.data[(y * plain.width + x) * 3 + c];
          const there = mirrored.data[(y * plain.width + plain.width - 1 - x) * 3 + c];
          worst = Math.max(worst, Math.abs(here - there));
        }
    expect(worst).toBeLessThanOrEqual(1);
  });

  it('adds noise of the stated size that does not shift the mean', () => {
    const grey: Scene = plainScene({
      cloth: { ...plainScene().cloth, ground: { kind: 'plain', colour: '#808080', mottle: 0 } },
      sensor: { blurPx: 0, noiseLevels: 4, jpegQuality: 95 },
    });
    const quiet = paintPhoto({ ...grey, sensor: { ...grey.sensor, noiseLevels: 0 } }).picture.data;
    const { data } = paintPhoto(grey).picture;
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < data.length; i++) {
      sum += data[i] - quiet[i];
      squares += (data[i] - quiet[i]) ** 2;
    }
    expect(Math.abs(sum / data.length)).toBeLessThan(0.05);
    expect(Math.sqrt(squares / data.length)).toBeCloseTo(4, 0);
  });
});

describe('a painted ruler', () => {
  const reference: PlacedReference = {
    type: 'black-mm',
    atMm: [130, 6],
    angleDeg: 9,
    heightMm: 0,
    wear: 0,
  };
  const scene: Scene = {
    ...TILTED,
    reference,
    camera: { ...TILTED.camera, widthPx: 1000, heightPx: 700, distanceMm: 160 },
  };
  const { picture, truth } = paintPhoto(scene);
  const camera = pinholeCamera(scene.camera);

  it('has its end marks as far apart on the cloth as their length says', () => {
    const [a, b] = (truth.reference?.ends_px ?? []).map(([x, y]) => camera.clothFromPhoto(x, y));
    expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo(300, 6);
    expect((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI).toBeCloseTo(9, 6);
  });

  it('has each tick where the truth homography puts it', () => {
    const [start, end] = (truth.reference?.ends_px ?? []).map(([x, y]) => camera.clothFromPhoto(x, y));
    const along = [(end[0] - start[0]) / 300, (end[1] - start[1]) / 300];
    const brightness = (k: number): number => {
      // 2 mm up the ticks, which stand on the lower side.
      const [x, y] = camera.photoFromCloth(
        start[0] + k * along[0] - 2 * along[1],
        start[1] + k * along[1] + 2 * along[0],
      );
      if (x < 1 || y < 1 || x > picture.width - 2 || y > picture.height - 2) return Number.NaN;
      return bilinear(picture, x, y);
    };
    let seen = 0;
    for (let k = 1; k < 300; k++) {
      let weight = 0;
      let moment = 0;
      for (let step = -24; step <= 24; step++) {
        const value = brightness(k + step / 60);
        weight += value;
        moment += (value * step) / 60;
      }
      if (Number.isNaN(weight)) continue;
      seen++;
      // Hundredths of a millimetre: light ticks on black, centre of brightness.
      expect(Math.abs(moment / weight)).toBeLessThan(0.03);
      expect(brightness(k)).toBeGreaterThan(2 * brightness(k + 0.5));
    }
    expect(seen).toBeGreaterThan(60);
  });
});

function bilinear(picture: Raster<Uint8Array>, x: number, y: number): number {
  const left = Math.floor(x - 0.5);
  const top = Math.floor(y - 0.5);
  const fx = x - 0.5 - left;
  const fy = y - 0.5 - top;
  const at = (dx: number, dy: number) => linearAt(picture, left + dx, top + dy, 1);
  return (at(0, 0) * (1 - fx) + at(1, 0) * fx) * (1 - fy) + (at(0, 1) * (1 - fx) + at(1, 1) * fx) * fy;
}
