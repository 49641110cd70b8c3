import { beforeAll, describe, expect, it } from 'vitest';
import type { ReferenceRequest } from '../../../src/core/base/request.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import { scanGrowth } from '../../../src/core/pipeline/scan-growth.js';
import type { PlaneSolution } from '../../../src/core/rectify/solve-plane.js';
import { measureSummary } from '../../../src/core/report/measure-summary.js';
import { FLAT_PX_PER_MM, flatCloth } from '../../support/flat-cloth.js';
import { plainScene, stripes } from '../../support/painted-scene.js';
import { type PaintedPhoto, paintPhoto } from '../../support/photo-painter/paint-photo.js';

const BANDS = [
  { colour: '#2b3a67', widthMm: 12 },
  { colour: '#ebe2cb', widthMm: 8 },
  { colour: '#c8862a', widthMm: 5 },
];

describe('stripes that grow over a picture', () => {
  /** Looked at along x with tilt t, the plane's length for a px goes as 1 / (1 + t x / f)^2, x from the middle: a projective map of a line. */
  it.each([
    [0.1, 0.02],
    [0.05, 0.3],
  ])('are told by the tilt %d alone', (tilt, spin) => {
    const camera = {
      widthPx: 2000,
      heightPx: 10,
      focalPx: 2000,
      tiltX: tilt,
      tiltY: 0,
      spin: Math.PI / 2,
      distanceMm: 300,
      k1: 0,
    };
    const plane = { camera, tiltSdDeg: spin } as PlaneSolution;
    const [near, far] = [1 + (tilt * 1000) / 2000, 1 - (tilt * 1000) / 2000];
    expect(scanGrowth(plane)).toBeCloseTo((near / far) ** 2 - 1, 2);
  });

  it('are none where the tilt is no more than its doubt', () => {
    const camera = { ...({} as PlaneSolution['camera']), tiltX: 0.1, tiltY: 0 };
    expect(scanGrowth({ camera, tiltSdDeg: 2 } as PlaneSolution)).toBe(0);
  });

  it('are not seen on a flat scan, whose tilt is told as not looked for', () => {
    const photo = flatCloth({ bands: BANDS, turnDeg: 3, seed: 5 });
    const scan = measureCloth(photo, { kind: 'density', pxPerMm: FLAT_PX_PER_MM });
    if (!scan.ok) throw new Error(scan.refusal.found);
    const { model } = scan.value;
    expect(model.warnings.map(({ code }) => code)).not.toContain('not-flat');
    expect(measureSummary(model, 'mm')).toMatch(/Tilt +not looked for, taken as a flat scan/);
  });
});

describe('a scale that is given, with a ruler in view', () => {
  let painted: PaintedPhoto;
  let ends: readonly (readonly [number, number])[];
  beforeAll(() => {
    painted = paintPhoto(
      plainScene({
        cloth: stripes(BANDS),
        reference: { type: 'metal-mm', atMm: [0, 0], angleDeg: 25, heightMm: 0, wear: 0.1 },
        camera: {
          ...plainScene().camera,
          widthPx: 1700,
          heightPx: 1300,
          distanceMm: 420,
          tiltDeg: [8, 9],
        },
        sensor: { blurPx: 0.6, noiseLevels: 1, jpegQuality: 95 },
      }),
    );
    ends = painted.truth.reference?.ends_px as [number, number][];
  }, 60_000);

  const measured = (request: ReferenceRequest) => {
    const { picture } = painted;
    const [widthPx, heightPx] = [picture.width, picture.height];
    return measureCloth({ picture, photoPerPicture: 1, widthPx, heightPx, focal35Mm: 43 }, request);
  };
  const withLength = (lengthMm: number) => measured({ kind: 'points', from: ends[0], to: ends[1], lengthMm });

  it.each([
    [300, null],
    [30, '10.0 times too short'],
    [306, '2.'],
  ])('of %d mm for 300 is warned of with both figures where they disagree', (lengthMm, wrongBy) => {
    const outcome = withLength(lengthMm);
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const told = outcome.value.model.warnings.find(({ code }) => code === 'scale-contradicted');
    if (wrongBy === null) {
      expect(told).toBeUndefined();
      return;
    }
    expect(told?.message).toContain(wrongBy);
    expect(told?.message).toMatch(/comes to [\d.]+ pixels a mm, but by the ruler in view it is 5\.\d+/);
    expect(told?.settings).toEqual(['points']);
  });

  it('as that of a scan, though stripes grow by half, is refused and the ruler named', () => {
    const outcome = measured({ kind: 'density', pxPerMm: 5 });
    expect(outcome).toMatchObject({ ok: false, refusal: { reason: 'no-scale', settings: ['density'] } });
    if (!outcome.ok) expect(outcome.refusal.remedy).toContain('ruler in view');
  });
});
