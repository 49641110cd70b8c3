import { expect, it } from 'vitest';
import { raster } from '../../../src/core/raster/raster.js';
import { type CameraPlane, clothMap } from '../../../src/core/rectify/camera-plane.js';
import { clothSheet } from '../../../src/core/rectify/cloth-picture.js';

const WIDTH = 640;
const HEIGHT = 480;
const TAN = (deg: number) => Math.tan((deg * Math.PI) / 180);

it.each([
  [15, -8, 0.03, 0],
  [-3, 18, -0.03, 2e-5],
])(
  'shows at each place what the camera saw there: tilt %d and %d degrees, lens %d, bow %d',
  (tiltX, tiltY, k1, bow) => {
    // Red tells the column of the picture, green the row, both in steps of three px: a bilinear sample reads them back.
    const data = new Uint8Array(3 * WIDTH * HEIGHT);
    for (let y = 0; y < HEIGHT; y++) {
      for (let x = 0; x < WIDTH; x++) {
        const i = 3 * (y * WIDTH + x);
        data[i] = Math.round((x + 0.5) / 3);
        data[i + 1] = Math.round((y + 0.5) / 3);
      }
    }
    const camera: CameraPlane = {
      widthPx: WIDTH,
      heightPx: HEIGHT,
      focalPx: 560,
      tiltX: TAN(tiltX),
      tiltY: TAN(tiltY),
      spin: 0.4,
      distanceMm: 400,
      k1,
    };
    const hidden = new Uint8Array(WIDTH * HEIGHT);
    hidden.fill(1, 0, 100 * WIDTH);
    const sheet = clothSheet(raster(WIDTH, HEIGHT, 3, data), 1, hidden, camera, bow, 1.3);
    const { picture, pxPerMm, leftUMm, topVMm, seen } = sheet;
    const { pictureFromCloth } = clothMap(camera);
    let checked = 0;
    for (let r = 3; r < picture.height; r += 7) {
      for (let q = 3; q < picture.width; q += 5) {
        const o = r * picture.width + q;
        const v = topVMm - (r + 0.5) / pxPerMm;
        const [x, y] = pictureFromCloth(leftUMm + (q + 0.5) / pxPerMm + bow * v * v, v);
        const within = (edge: number) => x > edge && y > edge && x < WIDTH - edge && y < HEIGHT - edge;
        if (!within(-2)) expect(picture.data[4 * o + 3]).toBe(0);
        if (!within(2)) continue;
        checked++;
        expect(picture.data[4 * o + 3]).toBe(255);
        expect(Math.abs(picture.data[4 * o] - x / 3)).toBeLessThan(1);
        expect(Math.abs(picture.data[4 * o + 1] - y / 3)).toBeLessThan(1);
        if (Math.abs(y - 100) > 2) expect(seen[o]).toBe(y > 100 ? 1 : 0);
      }
    }
    expect(checked).toBeGreaterThan(1000);
  },
);
