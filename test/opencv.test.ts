import { describe, expect, it } from 'vitest';
import { labFromLinear } from '../src/core/colour/lab.js';
import { linearFromRgb8, type Rgb8 } from '../src/core/colour/srgb.js';
import { homographyFromPoints } from '../src/core/math/homography.js';
import { type Matrix3, type Point, transformPoint } from '../src/core/math/matrix3.js';
import { type Raster, raster } from '../src/core/raster/raster.js';
import { type CameraPlane, clothFromUndistorted } from '../src/core/rectify/camera-plane.js';
import { clothSheet } from '../src/core/rectify/cloth-picture.js';
import { cv, pointsMat } from './support/opencv.js';
import { seededRandom } from './support/photo-painter/seeded-random.js';

/** Smooth in three different ways, so that a wrong channel, axis or half pixel shows. */
function smoothPicture(width: number, height: number): Raster<Uint8Array> {
  const data = new Uint8Array(width * height * 3);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      data[i++] = 128 + 90 * Math.sin(x / 9);
      data[i++] = 128 + 90 * Math.sin(y / 12 + 1);
      data[i++] = 128 + 90 * Math.sin((x + y) / 15 + 2);
    }
  }
  return raster(width, height, 3, data);
}

describe('against OpenCV 4.12 (@techstark/opencv-js)', () => {
  it('homographyFromPoints is findHomography with all points: same least squares', () => {
    const random = seededRandom(21);
    const sheetFromPhoto: Matrix3 = [0.11, -0.013, 4, 0.017, 0.098, -7, 1.3e-5, -2.1e-5, 1];
    const photo = Array.from({ length: 40 }, (): Point => [4000 * random.uniform(), 3000 * random.uniform()]);
    const sheet = photo.map((p): Point => {
      const [x, y] = transformPoint(sheetFromPhoto, p);
      return [x + 0.5 * random.gaussian(), y + 0.5 * random.gaussian()];
    });
    const mats = [pointsMat(photo), pointsMat(sheet)];
    const theirs = cv.findHomography(mats[0], mats[1], 0);
    const theirSheetFromPhoto = Array.from(theirs.data64F) as unknown as Matrix3;
    const ours = homographyFromPoints(photo, sheet) as Matrix3;
    for (const p of photo) {
      const [x, y] = transformPoint(ours, p);
      const [u, v] = transformPoint(theirSheetFromPhoto, p);
      expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-4);
    }
    for (const m of [...mats, theirs]) m.delete();
  });

  it("the picture of the cloth is warpPerspective by the camera's own map", () => {
    const source = smoothPicture(240, 180);
    const camera: CameraPlane = {
      widthPx: 240,
      heightPx: 180,
      focalPx: 220,
      tiltX: 0.14,
      tiltY: -0.1,
      spin: 1.3,
      distanceMm: 100,
      k1: 0,
    };
    const pxPerMm = 3.1;
    const ours = clothSheet(source, 1, new Uint8Array(240 * 180), camera, 0, pxPerMm);
    const { width, height, data } = ours.picture;
    const clothFromPicture = clothFromUndistorted(camera);
    // OpenCV puts pixel centres at whole numbers: half a pixel each way.
    const targetFromSource = ([x, y]: Point): Point => {
      const [u, v] = transformPoint(clothFromPicture, [x + 0.5, y + 0.5]);
      return [(u - ours.leftUMm) * pxPerMm - 0.5, (ours.topVMm - v) * pxPerMm - 0.5];
    };
    const square: Point[] = [
      [0, 0],
      [200, 0],
      [200, 150],
      [0, 150],
    ];
    const theirMap = homographyFromPoints(square, square.map(targetFromSource)) as Matrix3;
    const from = cv.matFromArray(180, 240, cv.CV_8UC3, Array.from(source.data));
    const map = cv.matFromArray(3, 3, cv.CV_64F, [...theirMap]);
    const to = new cv.Mat();
    cv.warpPerspective(from, to, map, new cv.Size(width, height), cv.INTER_LINEAR, cv.BORDER_REPLICATE);

    // Their positions are rounded to 1/32 px and ours cut to 1/256, where up to 10 levels a px of slope give 0.3; rounding gives another 1.
    let compared = 0;
    let worst = 0;
    let sum = 0;
    for (let i = 0; i < width * height; i++) {
      if (data[4 * i + 3] === 0) continue;
      for (let c = 0; c < 3; c++) {
        const d = data[4 * i + c] - to.data[3 * i + c];
        worst = Math.max(worst, Math.abs(d));
        sum += d;
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(100_000);
    expect(worst).toBeLessThanOrEqual(2);
    expect(Math.abs(sum / compared)).toBeLessThan(0.05);
    for (const m of [from, map, to]) m.delete();
  });

  it('CIELAB is COLOR_LRGB2Lab', () => {
    const colours: Rgb8[] = [];
    for (let r = 0; r < 256; r += 51) {
      for (let g = 0; g < 256; g += 51) {
        for (let b = 0; b < 256; b += 51) colours.push([r, g, b]);
      }
    }
    const from = cv.matFromArray(
      1,
      colours.length,
      cv.CV_32FC3,
      colours.flatMap((rgb) => [...linearFromRgb8(rgb)]),
    );
    const to = new cv.Mat();
    cv.cvtColor(from, to, cv.COLOR_LRGB2Lab);
    let worst = 0;
    colours.forEach((rgb, i) => {
      const ours = labFromLinear(linearFromRgb8(rgb));
      ours.forEach((v, c) => {
        worst = Math.max(worst, Math.abs(v - to.data32F[3 * i + c]));
      });
    });
    // From linear light, since their encoded way is read off a 33-step table. Their white is (0.950456, 1.088754): in Z
    // 0.03 % under ours, which b shows.
    expect(worst).toBeLessThan(0.03);
    for (const m of [from, to]) m.delete();
  });
});
