import { expect, test } from 'vitest';
import { nearMotifsMm } from '../../../../src/core/place/miss/near-motifs.js';
import { stateOf } from '../../../../src/core/place/search/problem.js';
import { pathOf } from '../../../../src/core/place/shape/path.js';
import { seededRandom } from '../../../support/photo-painter/seeded-random.js';

const motifs = {
  acrossMm: 52,
  alongMm: 40,
  dropMm: 20,
  boxes: [
    { u: 10, v: 5, halfU: 6, halfV: 4 },
    { u: 30, v: 22, halfU: 2, halfV: 9 },
  ],
};
const path = pathOf([
  [-80, -120],
  [-20, 0],
  [10, 30],
  [10, 140],
]);
const option = { across: -1 as const, along: 1 as const, face: 'right' as const, turned: false };

/** Distance from a place to the nearest box, box by box: closed form. */
function distanceMm(u: number, v: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const box of motifs.boxes)
    for (let k = -4; k <= 4; k++)
      for (let j = -7; j <= 7; j++) {
        const du = Math.max(0, Math.abs(u - box.u - k * motifs.acrossMm) - box.halfU);
        const dv = Math.max(0, Math.abs(v - box.v - k * motifs.dropMm - j * motifs.alongMm) - box.halfV);
        least = Math.min(least, Math.hypot(du, dv));
      }
  return least;
}

test.each([0, 2.5, 7])(
  'with a margin of %f mm as much of a seam is near to motifs as places along it, tried one by one, are',
  (marginMm) => {
    const draw = seededRandom(3).between;
    for (let run = 0; run < 3; run++) {
      const lay = stateOf(option, draw(-30, 30), draw(-30, 30));
      const steps = 1500;
      let near = 0;
      for (let k = 0; k < steps; k++) {
        const s = ((k + 0.5) / steps) * path.lengthMm;
        let i = 1;
        while (path.passedMm[i] < s) i++;
        const part = (s - path.passedMm[i - 1]) / (path.passedMm[i] - path.passedMm[i - 1]);
        const p = path.pMm[i - 1] + part * (path.pMm[i] - path.pMm[i - 1]);
        const q = path.qMm[i - 1] + part * (path.qMm[i] - path.qMm[i - 1]);
        if (
          distanceMm(-p + lay.across.offsetMm, q + lay.along.offsetMm) < marginMm ||
          distanceMm(-p + lay.across.offsetMm, q + lay.along.offsetMm) === 0
        )
          near += path.lengthMm / steps;
      }
      expect(Math.abs(nearMotifsMm(motifs, path, lay, marginMm) - near)).toBeLessThan(0.6);
    }
  },
);

test('a lattice vector more changes nothing', () => {
  const here = nearMotifsMm(motifs, path, stateOf(option, 7, 3), 4);
  expect(nearMotifsMm(motifs, path, stateOf(option, 7 + 52, 3 + 20), 4)).toBeCloseTo(here, 9);
  expect(nearMotifsMm(motifs, path, stateOf(option, 7, 3 - 40), 4)).toBeCloseTo(here, 9);
});
