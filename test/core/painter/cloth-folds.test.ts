import { expect, it } from 'vitest';
import { foldedCloth } from '../../support/photo-painter/cloth-folds.js';

const FOLD = { atMm: [20, 0], angleDeg: 90, widthMm: 8, heightMm: 0.9, lightPerSlope: 1 } as const;
const STAND = { footMm: [5, -3], heightMm: 400 } as const;

/** Height of the ridge, which runs along v through u = 20, at a place of the plane. */
const heightAt = (u: number): number => 0.9 * Math.exp(-0.5 * ((u - 20) / 8) ** 2);

it('shows on the crest what a ray over the plane meets there', () => {
  const seen = foldedCloth([FOLD], STAND);
  // The crest's place (20, 40), 0.9 mm up, hides this place of the plane.
  const away = 400 / (400 - 0.9);
  const at = Float64Array.of(5 + (20 - 5) * away, -3 + (40 + 3) * away);
  seen(at);
  // To the second order of height over distance.
  expect(at[0]).toBeCloseTo(20, 3);
  expect(at[1]).toBeCloseTo(40, 3);
});

it('draws in the cloth that the ridge uses up', () => {
  const seen = foldedCloth([FOLD], STAND);
  const left = Float64Array.of(-60, 10);
  const right = Float64Array.of(100, 10);
  seen(left);
  seen(right);
  let arc = 0;
  const step = 0.01;
  for (let u = -60; u < 100; u += step) arc += Math.hypot(step, heightAt(u + step) - heightAt(u));
  expect(right[0] - left[0]).toBeCloseTo(arc, 3);
});

it('lights one side and darkens the other by the slope', () => {
  const seen = foldedCloth([FOLD], STAND);
  // Half-width from the crest the slope is h / w exp(-1/2), the steepest there is.
  const steepest = (0.9 / 8) * Math.exp(-0.5);
  const gains = [12, 28].map((u) => seen(Float64Array.of(u, 0)));
  expect(Math.abs(gains[0] - 1)).toBeCloseTo(steepest, 9);
  expect(gains[0] + gains[1]).toBeCloseTo(2, 9);
  expect(seen(Float64Array.of(90, 0))).toBe(1);
});
