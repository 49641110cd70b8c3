import { describe, expect, it } from 'vitest';
import { unfold } from '../../../scripts/benchmark/sett-scenes.js';
import { plainScene, stripes } from '../../support/painted-scene.js';
import { edgeTable } from '../../support/photo-painter/edge-table.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import { inkShares, isBalanced } from '../../support/photo-painter/pattern-truth.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const bands = (...list: readonly [string, number][]) =>
  list.map(([colour, widthMm]) => ({ colour, widthMm }));

describe('balance of a band list', () => {
  // A cyclic list is balanced iff, read backwards, it is a turn of itself; the four cases are the trade's.
  it.each([
    ['two colours', bands(['#a', 24], ['#b', 8]), true],
    ['three colours', bands(['#a', 20], ['#b', 6], ['#c', 10]), false],
    ['A B A C, equal A', bands(['#a', 10], ['#b', 10], ['#a', 10], ['#c', 10]), true],
    ['A B A C, unequal A', bands(['#a', 12], ['#b', 6], ['#a', 8], ['#b', 6]), true],
    ['A B A C, unequal A, B and C', bands(['#a', 12], ['#b', 6], ['#a', 8], ['#b', 5]), false],
  ])('%s', (_name, list, balanced) => {
    expect(isBalanced(list)).toBe(balanced);
  });
});

describe('shares of colour', () => {
  it('are the widths over the repeat, and with a print still sum to 1', () => {
    const cloth = stripes(bands(['#2a3a63', 9], ['#ebe2cb', 21])).ground;
    if (cloth.kind !== 'striped') throw new Error('expected stripes');
    expect(inkShares(cloth)).toEqual({ '#2a3a63': 0.3, '#ebe2cb': 0.7 });
    const shares = inkShares({
      ...cloth,
      motif: { colour: '#8c3a2c', ribColour: '#ebe2cb', heightMm: 12, alongMm: 30, drop: 0.5, atMm: 20 },
    });
    expect(Object.values(shares).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 9);
    // A fan of 64 degrees either side: theta r^2 with r a little under 11 mm, less its ribs.
    expect(shares['#8c3a2c'] * 30 * 30).toBeGreaterThan(70);
    expect(shares['#8c3a2c'] * 30 * 30).toBeLessThan(130);
  });
});

describe('uneven edges', () => {
  it('scatter the widths by the stated fraction and keep the repeat', () => {
    const list = bands(['#a', 10], ['#b', 30], ['#c', 20]);
    const look = { unevenness: 0.04, wanderMm: 0, raggedMm: 0 };
    const table = edgeTable(list, look, [-6000, 6000], [0, 1], seededRandom(5));
    const tenths: number[] = [];
    for (let e = 0; e + 3 < table.edgeCount; e += 3) {
      expect(table.us[e + 3] - table.us[e]).toBeCloseTo(60, 2);
      tenths.push((table.us[e + 1] - table.us[e]) / 10);
    }
    const mean = tenths.reduce((sum, value) => sum + value, 0) / tenths.length;
    const sd = Math.sqrt(tenths.reduce((sum, value) => sum + (value - mean) ** 2, 0) / tenths.length);
    expect(mean).toBeCloseTo(1, 1);
    expect(sd).toBeGreaterThan(0.03);
    expect(sd).toBeLessThan(0.05);
  });

  it('are what the truth reports, instance by instance', () => {
    const scene = plainScene({ cloth: stripes(bands(['#2a3a63', 7], ['#ebe2cb', 5]), 0.08) });
    const { truth } = paintPhoto({ ...scene, camera: { ...scene.camera, heightPx: 320 } });
    expect(truth.instances.length).toBeGreaterThan(10);
    for (let i = 0; i + 1 < truth.instances.length; i++) {
      const [first, second] = [truth.instances[i], truth.instances[i + 1]];
      if (first.band === 0) expect(first.width_mm + second.width_mm).toBeCloseTo(12, 4);
    }
    expect(Math.max(...truth.bands.map((band) => band.width_mm_sd_visible ?? 0))).toBeGreaterThan(0.05);
  });
});

describe('thread counts', () => {
  // Full repeats as recorded beside the counts: twice the sum less both pivots, or the sum.
  it.each([
    ['B/44 K4 B4 K4 B4 K32 G32 K4 G32 K32 B32 K4 B/4', true, 416],
    ['R/144 B16 K24 Y8 K8 W8 K8 G32 R16 K8 R8 W/8', true, 424],
    ['A/8 K4 G32 K32 B32 K4 R/8', true, 224],
  ])('%s unfolds to its full repeat', (count, reflective, threads) => {
    const list = unfold(count, reflective, new Map());
    expect(list.reduce((sum, band) => sum + band.widthMm, 0)).toBe(threads);
  });

  it('joins neighbours of one colour, round the end too', () => {
    const colours = new Map([...'ABC'].map((letter) => [letter, `#${letter}`]));
    expect(unfold('A4 B2 C6 A8', false, colours)).toEqual(bands(['#a', 12], ['#b', 2], ['#c', 6]));
  });
});
