import { describe, expect, it } from 'vitest';
import { RANDOM_GROUPS, randomScenes } from '../../scripts/benchmark/random/scenes.js';
import { ciede2000 } from '../../src/core/colour/ciede2000.js';
import { labFromRgb8 } from '../../src/core/colour/lab.js';
import { rgb8FromHex } from '../../src/core/colour/srgb.js';
import { isBalanced } from '../support/photo-painter/pattern-truth.js';
import type { Scene, StripedGround } from '../support/photo-painter/scene.js';

const scenes = randomScenes(300, 5);
const of = (group: string) => scenes.filter(({ category }) => category === group);
const ground = ({ cloth }: Scene): StripedGround | null =>
  cloth.ground.kind === 'striped' ? cloth.ground : null;
const step = (a: string, b: string) => ciede2000(labFromRgb8(rgb8FromHex(a)), labFromRgb8(rgb8FromHex(b)));

describe('scenes of drawn conditions', () => {
  it('are the same for the same seed, and a longer list begins as a shorter one', () => {
    expect(randomScenes(30, 5)).toEqual(scenes.slice(0, 30));
    expect(randomScenes(30, 6)).not.toEqual(scenes.slice(0, 30));
  });

  it('take every group in turn, under a name of its own', () => {
    for (const group of RANDOM_GROUPS) expect(of(group)).toHaveLength(300 / RANDOM_GROUPS.length);
    expect(new Set(scenes.map(({ name }) => name)).size).toBe(300);
  });

  it('have bands that differ from their neighbours and sequences of the kind their group says', () => {
    for (const scene of scenes) {
      const bands = ground(scene)?.bands ?? [];
      bands.forEach((band, i) => {
        expect(band.widthMm).toBeGreaterThan(0.3);
        expect(band.colour).not.toBe(bands[(i + 1) % bands.length].colour);
      });
      if (scene.category === 'simple') expect(isBalanced(bands)).toBe(true);
      if (scene.category === 'one-way') expect(isBalanced(bands)).toBe(false);
      if (scene.category === 'tones')
        bands.forEach((band, i) => {
          const next = step(band.colour, bands[(i + 1) % bands.length].colour);
          expect(next).toBeGreaterThanOrEqual(3.99);
          expect(next).toBeLessThan(19);
        });
    }
  });

  it('reach as far as people really go', () => {
    const tilts = of('hard').map(({ camera }) => Math.hypot(...camera.tiltDeg));
    expect(Math.max(...tilts)).toBeGreaterThan(17);
    expect(Math.max(...tilts)).toBeLessThanOrEqual(20.001);
    const counts = scenes.map((scene) => ground(scene)?.bands.length ?? 2);
    expect(Math.min(...counts)).toBe(2);
    expect(Math.max(...counts)).toBe(16);
    const has = (what: (scene: Scene) => unknown) => scenes.filter((scene) => what(scene)).length;
    expect(has((scene) => scene.objects)).toBeGreaterThan(20);
    expect(has((scene) => scene.moreReferences)).toBeGreaterThan(5);
    expect(has((scene) => scene.cloth.borders)).toBeGreaterThan(15);
    expect(has((scene) => scene.cloth.folds)).toBeGreaterThan(15);
    expect(has((scene) => ground(scene)?.bands.some(({ shadeTo }) => shadeTo))).toBeGreaterThan(0);
    expect(has(({ camera }) => !camera.exifFocal)).toBeGreaterThan(40);
    expect(new Set(scenes.map(({ reference }) => reference?.type)).size).toBeGreaterThan(12);
  });
});
