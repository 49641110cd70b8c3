import { describe, expect, it } from 'vitest';
import type { ScaleFacts } from '../../../src/core/model/band-model.js';
import { originOf } from '../../../src/core/pipeline/cloth-origin.js';
import { viewOfCloth } from '../../../src/core/pipeline/view-of-cloth.js';
import { originWords } from '../../../src/core/report/origin-words.js';

/** Straight from above, 4 px a mm, stripes upright: u = (x - 800) / 4, v = (600 - y) / 4 by similar triangles. */
const above = viewOfCloth(
  {
    widthPx: 1600,
    heightPx: 1200,
    focalPx: 2000,
    tiltX: 0,
    tiltY: 0,
    spin: Math.PI / 2,
    distanceMm: 500,
    k1: 0,
  },
  0,
  0,
  1,
);
const ruler = (ends_px: ScaleFacts['ends_px']): ScaleFacts => ({
  px_per_mm: 4,
  relative_sd: 0.001,
  source: 'ruler',
  unit: 'mm',
  ends_px,
  length_mm: 300,
});

describe('originOf', () => {
  it('takes the end of the ruler nearest the zero line and says how to get from it to 0', () => {
    const origin = originOf(
      ruler([
        [100, 1000],
        [1500, 440],
      ]),
      above,
    );
    expect(origin).toMatchObject({ landmark: 'ruler-end', place: 'right', at_px: [1500, 440] });
    expect(origin.u_mm).toBeCloseTo(175, 6);
    expect(origin.v_mm).toBeCloseTo(40, 6);
    expect(origin.towards).toBe('down');
    expect(origin.words).toContain('go 40.0 mm down along the stripes');
    expect(originWords(origin, 'inch')).toContain('go 1 9/16 in (1.575) down');
  });

  it('never names an end that is not in the photo, nor a scan, which has none', () => {
    const out = originOf(
      ruler([
        [-40, 590],
        [1700, 900],
      ]),
      above,
    );
    expect(out.landmark).toBe('view-corner');
    expect(Math.abs(out.v_mm)).toBeCloseTo(150, 6);
    const scan = originOf({ ...ruler(undefined), source: 'density' }, above);
    expect(scan).toMatchObject({ landmark: 'view-corner', u_mm: out.u_mm });
    expect(scan.words).toMatch(/start at the (upper|lower) (left|right) corner of the photo/);
  });

  it('needs no way where the landmark is level with 0', () => {
    const level = originOf(
      ruler([
        [300, 601],
        [1500, 100],
      ]),
      above,
    );
    expect(level.words).toContain('through');
    expect(level.words).not.toContain('go ');
  });
});

describe('viewOfCloth', () => {
  it('gives back a place in the photo, and the stretches that it shows', () => {
    const [u, v] = above.clothFromPhoto(above.photoFromCloth(37, -61));
    expect([u, v].map((x) => Number(x.toFixed(6)))).toEqual([37, -61]);
    const [low, high] = above.alongAt(10)!;
    expect(high - low).toBeCloseTo(300, 1);
    expect(above.acrossAt(160)).toBeNull();
  });
});
