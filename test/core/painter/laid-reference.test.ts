import { describe, expect, it } from 'vitest';
import { plainScene } from '../../support/painted-scene.js';
import { laidReference } from '../../support/photo-painter/laid-reference.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../../support/photo-painter/pinhole-camera.js';
import type { PlacedReference } from '../../support/photo-painter/scene.js';

const TAPE: PlacedReference = {
  type: 'tape-mm',
  atMm: [40, -25],
  angleDeg: 33,
  heightMm: 0,
  wear: 0,
  stretch: 0.0013,
  bendPerMm: -6e-5,
};
const SIZE = [1024, 19] as const;

describe('a reference as it lies', () => {
  const { ownFromCloth, clothFromOwn } = laidReference(TAPE, SIZE);
  const ownAt = (u: number, v: number): Float64Array => {
    const own = new Float64Array(6);
    ownFromCloth(Float64Array.of(u, v, 0.1, 0, 0, 0.1), own);
    return own;
  };

  it('leads back from its own frame to the cloth and again to itself', () => {
    for (let s = 60; s <= 960; s += 60)
      for (const t of [0, 9.5, 19]) {
        const own = ownAt(...clothFromOwn(s, t));
        // A bent tape is followed to second order of its bend.
        expect(Math.abs(own[0] - s)).toBeLessThan(0.02);
        expect(Math.abs(own[1] - t)).toBeLessThan(0.02);
      }
  });

  it('has the gradients that its values show', () => {
    const step = 0.01;
    for (const [u, v] of [
      [40, -25],
      [160, 50],
      [-120, -130],
    ]) {
      const own = ownAt(u, v);
      const right = ownAt(u + step, v);
      const up = ownAt(u, v + step);
      for (const axis of [0, 1]) {
        expect(own[2 + 2 * axis]).toBeCloseTo((0.1 * (right[axis] - own[axis])) / step, 4);
        expect(own[3 + 2 * axis]).toBeCloseTo((0.1 * (up[axis] - own[axis])) / step, 4);
      }
    }
  });

  it('keeps its marks evenly spaced along its bent axis, farther apart by its stretch', () => {
    // Lengths of short chords between neighbouring marks add up to the arc.
    let arc = 0;
    let [u, v] = clothFromOwn(100, SIZE[1] / 2);
    for (let s = 101; s <= 900; s++) {
      const [nextU, nextV] = clothFromOwn(s, SIZE[1] / 2);
      const chord = Math.hypot(nextU - u, nextV - v);
      expect(chord).toBeCloseTo(1.0013, 4);
      arc += chord;
      [u, v] = [nextU, nextV];
    }
    expect(arc).toBeCloseTo(800 * 1.0013, 2);
  });

  it('tells in the truth how much cloth a marked length hides', () => {
    const scene = plainScene({
      reference: { ...TAPE, type: 'metal-mm', heightMm: 0.5, bendPerMm: 0, stretch: -0.002 },
    });
    const { reference } = paintPhoto(scene).truth;
    const camera = pinholeCamera(scene.camera);
    const [a, b] = reference!.ends_px.map(([x, y]) => camera.clothFromPhoto(x, y));
    // 0.5 mm up under a camera 100 mm up: 100 / 99.5.
    expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo((300 * 0.998 * 100) / 99.5, 6);
    expect(reference!.apparent_gain).toBeCloseTo((0.998 * 100) / 99.5, 9);
  });
});
