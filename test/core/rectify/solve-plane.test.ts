import { describe, expect, it } from 'vitest';
import { type CameraPlane, clothMap, tiltDegOf } from '../../../src/core/rectify/camera-plane.js';
import type { PlaneRequest } from '../../../src/core/rectify/plane-request.js';
import { solvePlane } from '../../../src/core/rectify/solve-plane.js';
import type { EdgePoints } from '../../../src/core/rectify/trace-edges.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 4032;
const HEIGHT = 3024;

interface World {
  readonly camera: CameraPlane;
  readonly bowPerMm: number;
  /** Direction of the rule in the cloth frame, degrees from u. */
  readonly rulerDeg: number;
  readonly noisePx: number;
}

const world = (more: Partial<CameraPlane> = {}, rest: Partial<World> = {}): World => ({
  camera: {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    focalPx: 3100,
    tiltX: 0.05,
    tiltY: -0.07,
    spin: 1.9,
    distanceMm: 430,
    k1: 0,
    ...more,
  },
  bowPerMm: 0,
  rulerDeg: 35,
  noisePx: 0,
  ...rest,
});

/** Two bands of 14 and 9 mm; edge points and ticks as the camera sees them. The camera's own map is checked elsewhere. */
function seen(
  { camera, bowPerMm, rulerDeg, noisePx }: World,
  known: Partial<PlaneRequest> = {},
): PlaneRequest {
  const random = seededRandom(17);
  const map = clothMap(camera);
  const noisy = (u: number, v: number): [number, number] => {
    const [x, y] = map.pictureFromCloth(u, v);
    return [x + noisePx * random.gaussian(), y + noisePx * random.gaussian()];
  };
  const edgesU: { u: number; band: number; repeat: number }[] = [];
  for (let repeat = -9; repeat <= 9; repeat++) {
    edgesU.push({ u: 23 * repeat + 3, band: 0, repeat }, { u: 23 * repeat + 17, band: 1, repeat });
  }
  const windows = 24;
  const x = new Float64Array(edgesU.length * windows).fill(Number.NaN);
  const y = x.slice();
  edgesU.forEach(({ u }, e) => {
    for (let w = 0; w < windows; w++) {
      const v = (w - 11.5) * 18;
      const p = noisy(u + bowPerMm * v * v, v);
      if (p[0] < 0 || p[1] < 0 || p[0] > WIDTH || p[1] > HEIGHT) continue;
      x[e * windows + w] = p[0];
      y[e * windows + w] = p[1];
    }
  });
  const edges: EdgePoints = { edges: edgesU.length, windows, x, y, sdPx: x.map(() => 0.05), blurPx: 1 };
  const c = Math.cos((rulerDeg * Math.PI) / 180);
  const s = Math.sin((rulerDeg * Math.PI) / 180);
  const marks = Array.from({ length: 201 }, (_, k) => ({
    picture: noisy(-60 + k * c, -40 + k * s),
    planeMm: [k, 0] as [number, number],
  }));
  return {
    widthPx: WIDTH,
    heightPx: HEIGHT,
    focalPx: 3100,
    focalLogSd: 0,
    angle: camera.spin + 0.02,
    pxPerMm: 7,
    edges,
    places: edgesU.map(({ band, repeat }) => ({ band, repeat })),
    marks,
    markSdPx: 0.05,
    levelSdPx: 0.05,
    sideMarks: [],
    flat: false,
    ...known,
  };
}

/** Length that 100 mm across the stripes, a hand's breadth off the middle, come out as. */
function hundredMm(truth: CameraPlane, found: CameraPlane): number {
  const a = clothMap(truth).pictureFromCloth(60, 50);
  const b = clothMap(truth).pictureFromCloth(160, 50);
  const p = clothMap(found).clothFromPicture(...a);
  const q = clothMap(found).clothFromPicture(...b);
  return Math.hypot(q[0] - p[0], q[1] - p[1]);
}

describe('solvePlane', () => {
  it.each([
    ['with an oblique rule and the repeat', {}, {}],
    ['with the rule along the stripes', {}, { rulerDeg: 90 }],
    ['with the rule across them', {}, { rulerDeg: 0 }],
    ['with a strong tilt', { tiltX: -0.2, tiltY: 0.18 }, {}],
    ['with lens curvature', { k1: 0.011 }, {}],
    ['with bow', {}, { bowPerMm: 6e-5 }],
    ['with both, which differ by their sign across the centre', { k1: -0.008 }, { bowPerMm: -5e-5 }],
  ])('returns to the true plane %s', (_, camera, rest) => {
    const truth = world(camera, rest);
    const found = solvePlane(seen(truth));
    // The priors (10 degrees of tilt, 1.5 % of lens, 1.5 % of bow) hold back a little even without noise.
    expect(Math.abs(tiltDegOf(found.camera) - tiltDegOf(truth.camera))).toBeLessThan(0.02);
    expect(Math.abs(found.camera.k1 - truth.camera.k1)).toBeLessThan(2e-4);
    expect(Math.abs(found.bowPerMm - truth.bowPerMm)).toBeLessThan(1e-6);
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.02);
  });

  it('needs no repeat when the rule lies aslant', () => {
    const truth = world();
    const found = solvePlane(seen(truth, { places: null }));
    expect(Math.abs(tiltDegOf(found.camera) - tiltDegOf(truth.camera))).toBeLessThan(0.05);
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.05);
  });

  it('takes scale and plane from the four corners of a sheet, listed either way round', () => {
    const truth = world();
    const map = clothMap(truth.camera);
    for (const turned of [1, -1]) {
      const marks = [
        [0, 0],
        [297, 0],
        [297, 210],
        [0, 210],
      ].map(([a, b]) => ({
        picture: map.pictureFromCloth(-150 + a, -100 + turned * b),
        planeMm: [a, b] as [number, number],
      }));
      const found = solvePlane(seen(truth, { marks, places: null }));
      expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.03);
    }
  });

  it('stands a guessed focal length: one rule and one set of stripes cannot tell it, and lengths hardly need it', () => {
    const truth = world({ tiltX: 0.12, tiltY: -0.1 });
    const found = solvePlane(seen(truth, { focalPx: 3500, focalLogSd: 0.2 }));
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.1);
  });

  /** Points 1.5 and 5 mm up each tick of the rule, which lean by so many degrees. */
  function tickPoints(camera: CameraPlane, leanDeg = 0, bendPerMm = 0) {
    const { pictureFromCloth } = clothMap(camera);
    return Array.from({ length: 201 }, (_, k) =>
      [1.5, 5].map((h) => ({
        picture: pictureFromCloth(...onRule(k - h * Math.tan((leanDeg * Math.PI) / 180), h, bendPerMm)),
        alongMm: k,
      })),
    ).flat();
  }

  /** A place of the rule, along and aside of it, that lies aslant and may be bent about its middle (ticks square to the bend). */
  function onRule(k: number, h: number, bendPerMm: number): [number, number] {
    const x = k - 100;
    const turn = Math.atan(2 * bendPerMm * x);
    const along = x - h * Math.sin(turn) + 100;
    const aside = bendPerMm * x * x + h * Math.cos(turn);
    const c = Math.cos((35 * Math.PI) / 180);
    const s = Math.sin((35 * Math.PI) / 180);
    return [-60 + along * c - aside * s, -40 + along * s + aside * c];
  }

  it('learns most of the focal length from ticks that stand square on the rule', () => {
    const truth = world({ tiltX: 0.12, tiltY: -0.1 });
    const guess = { focalPx: 3900, focalLogSd: 0.3 };
    const found = solvePlane(seen(truth, { ...guess, sideMarks: tickPoints(truth.camera) }));
    // What ticks may lean leaves the guess some weight.
    expect(Math.abs(found.camera.focalPx / 3100 - 1)).toBeLessThan(0.12);
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.05);
    const without = solvePlane(seen(truth, guess));
    expect(found.focalSd).toBeLessThan(without.focalSd);
  });

  it('is not drawn off by ticks that all lean by a tenth of a degree, more than it allows for', () => {
    const truth = world({ tiltX: 0.12, tiltY: -0.1 });
    const sideMarks = tickPoints(truth.camera, 0.1);
    const found = solvePlane(seen(truth, { focalPx: 3500, focalLogSd: 0.3, sideMarks }));
    const offMm = Math.abs(hundredMm(truth.camera, found.camera) - 100);
    expect(offMm).toBeLessThan(3 * (found.repeatScaleSd ?? 0) * 100);
    expect(Math.abs(tiltDegOf(found.camera) - tiltDegOf(truth.camera))).toBeLessThan(3 * found.tiltSdDeg);
  });

  it.each([
    ['at a known focal length', { focalPx: 3100, focalLogSd: 0 }],
    ['at a guessed one', { focalPx: 3500, focalLogSd: 0.3 }],
  ])('a tape that lies in a curve bends no plane, %s', (_, guess) => {
    const truth = world();
    // 0.7 mm aside at either end of 200 mm.
    const bend = 7e-5;
    const { pictureFromCloth } = clothMap(truth.camera);
    const marks = Array.from({ length: 201 }, (__, k) => ({
      picture: pictureFromCloth(...onRule(k, 0, bend)),
      planeMm: [k, 0] as [number, number],
    }));
    const sideMarks = tickPoints(truth.camera, 0, bend);
    const found = solvePlane(seen(truth, { ...guess, marks, sideMarks }));
    expect(Math.abs(found.camera.k1)).toBeLessThan(5e-4);
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.05);
  });

  it('an unknown focal length does not matter seen from straight above', () => {
    const above = world({ tiltX: 0, tiltY: 0 });
    const aslant = world({ tiltX: 0.2, tiltY: -0.2 });
    const guess = { focalPx: 3500, focalLogSd: 0.3 };
    expect(solvePlane(seen(above, guess)).focalSd).toBeLessThan(2e-4);
    expect(solvePlane(seen(aslant, guess)).focalSd).toBeGreaterThan(1e-3);
    expect(solvePlane(seen(aslant)).focalSd).toBe(0);
  });

  it('does not squeeze the cloth where a rule along the stripes leaves the focal length open', () => {
    // Edges that scatter would lie nearer to their lines, in mm, on a plane seen very much aslant.
    const truth = world({ tiltX: 0.09, tiltY: 0.05 }, { rulerDeg: 90, noisePx: 1.5 });
    const found = solvePlane(seen(truth, { focalPx: 3100, focalLogSd: 0.3 }));
    const prior = Math.log(found.camera.focalPx / 3100) / 0.3;
    expect(Math.abs(prior)).toBeLessThan(1);
    expect(Math.abs(tiltDegOf(found.camera) - tiltDegOf(truth.camera))).toBeLessThan(3 * found.tiltSdDeg);
  });

  it('keeps a hundredth of a per cent under a third of a pixel of noise, and says how far edges scatter', () => {
    const truth = world({}, { noisePx: 0.3 });
    const found = solvePlane(seen(truth));
    expect(Math.abs(hundredMm(truth.camera, found.camera) - 100)).toBeLessThan(0.03);
    expect(found.edgeSdMm).toBeGreaterThan(0.03);
    expect(found.edgeSdMm).toBeLessThan(0.06);
  });

  it('leaves a scan flat and at its given density', () => {
    const flat: CameraPlane = { ...world().camera, tiltX: 0, tiltY: 0, focalPx: 3100, distanceMm: 3100 / 7 };
    const found = solvePlane(seen({ ...world(), camera: flat }, { flat: true, marks: [] }));
    expect(tiltDegOf(found.camera)).toBe(0);
    expect(found.tiltSdDeg).toBe(0);
    expect(hundredMm(flat, found.camera)).toBeCloseTo(100, 6);
    expect(found.camera.spin).toBeCloseTo(1.9, 5);
  });
});
