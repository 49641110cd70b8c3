import { describe, expect, it } from 'vitest';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import {
  acrossGainAt,
  lightBetweenRepeats,
  withLightAcross,
} from '../../../src/core/stripes/light-between-repeats.js';
import { lightAlong, logGainAt } from '../../../src/core/stripes/light-field.js';
import type { Segment } from '../../../src/core/stripes/segment.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';
import { paintStraight } from '../../support/straight-cloth-painter.js';

const BANDS = [
  { colour: '#2a3a63', width: 30 },
  { colour: '#ebe2cb', width: 22 },
  { colour: '#bd8738', width: 12 },
];

describe('lightAlong', () => {
  it('finds what the light does along the stripes, whatever their colours', () => {
    // Separable: the part along is known up to a constant, which no column can tell from its colour.
    const along = (y: number) => 1 - 0.35 * y + 0.15 * y * y;
    const { cloth } = paintStraight({
      bands: BANDS,
      columns: 500,
      rows: 200,
      start: 7,
      seed: 1,
      dirt: { light: (_, y) => along(y), noise: 1 },
    });
    const light = lightAlong(cloth);
    const middle = logGainAt(light, 250, 100) - Math.log(along(0.5));
    for (const y of [0.1, 0.3, 0.5, 0.7, 0.9]) {
      for (const x of [60, 250, 440]) {
        expect(logGainAt(light, x, 200 * y) - Math.log(along(y)) - middle).toBeCloseTo(0, 1);
      }
    }
  });

  it('sees no light in motifs', () => {
    const { cloth } = paintStraight({
      bands: BANDS,
      columns: 500,
      rows: 200,
      start: 7,
      seed: 1,
      motif: { colour: '#8c3a2c', at: 41, alongRows: 40, drop: 0.5, radiusColumns: 9, shape: 'disc' },
    });
    const { logGain } = lightAlong(cloth);
    for (const gain of logGain) expect(Math.abs(gain)).toBeLessThan(0.02);
  });

  it('sees none in dark motifs as large as the parts it looks at one by one', () => {
    for (const alongRows of [50, 67]) {
      const { cloth } = paintStraight({
        bands: [
          { colour: '#cdb9ba', width: 110 },
          { colour: '#3fae8f', width: 24 },
        ],
        columns: 500,
        rows: 200,
        start: 7,
        seed: 1,
        motif: { colour: '#2a1a10', at: 55, alongRows, drop: 0.5, radiusColumns: 36, shape: 'disc' },
      });
      const { logGain } = lightAlong(cloth);
      for (const gain of logGain) expect(Math.abs(gain)).toBeLessThan(0.05);
    }
  });
});

describe('lightBetweenRepeats', () => {
  const width = 1000;
  const dyes: [number, number, number][] = [
    [0.03, 0.05, 0.13],
    [0.8, 0.75, 0.6],
    [0.5, 0.25, 0.05],
  ];
  const cloth = (light: (x: number) => number) => {
    const segments: Segment[] = [];
    const places: { band: number; repeat: number }[] = [];
    for (let i = 0; i < 30; i++) {
      const from = (i * width) / 30;
      const to = ((i + 1) * width) / 30;
      const gain = light((from + to) / 2 / width);
      const linear = dyes[i % 3].map((v) => v * gain) as unknown as [number, number, number];
      segments.push({ from, to, linear, lab: labFromLinear(linear) });
      places.push({ band: i % 3, repeat: Math.floor(i / 3) });
    }
    return { segments, places };
  };

  it.each([
    ['a slope', (x: number) => 0.7 + 0.5 * x],
    ['a soft shadow', (x: number) => 1 - 0.4 / (1 + ((x - 0.6) / 0.25) ** 4)],
  ])('tells %s from the dyes', (_, light) => {
    const { segments, places } = cloth(light);
    const across = lightBetweenRepeats(width, 14, segments, places, 3);
    const offset = acrossGainAt(across, 500, width) - Math.log(light(0.5));
    for (const x of [0.08, 0.25, 0.4, 0.75, 0.92]) {
      expect(Math.abs(acrossGainAt(across, x * width, width) - Math.log(light(x)) - offset)).toBeLessThan(
        0.07,
      );
    }
  });

  it('is level in level light, and adds itself to every row of a field', () => {
    const { segments, places } = cloth(() => 0.8);
    const level = lightBetweenRepeats(width, 14, segments, places, 3);
    for (const gain of level) expect(gain).toBeCloseTo(0, 6);
    const { segments: lit, places: at } = cloth((x) => 1 + 0.3 * x);
    const across = lightBetweenRepeats(width, 14, lit, at, 3);
    const field = { columns: 14, rows: 3, logGain: new Float64Array(42).fill(0.2), width, height: 90 };
    const both = withLightAcross(field, across);
    for (const y of [10, 45, 80]) {
      expect(logGainAt(both, 300, y)).toBeCloseTo(0.2 + acrossGainAt(across, 300, width), 2);
    }
  });
});

describe('lightBetweenRepeats where few wide repeats are in view', () => {
  it('does not take noise of the bands for light that comes again with the repeat', () => {
    const bands = 28;
    const repeat = 1100;
    const width = 3600;
    const nodes = 14;
    const truth = (x: number) => -0.5 * (x / width - 0.45) ** 2;
    const worst = [1, 2, 3, 4, 5, 6].map((seed) => {
      const random = seededRandom(seed);
      const levels = Array.from({ length: bands }, () => random.between(0.01, 0.4));
      const cells = Array.from({ length: Math.floor((width * bands) / repeat) }, (_, i) => i);
      const segments = cells.map((i) => {
        const from = (i * repeat) / bands;
        const to = ((i + 1) * repeat) / bands;
        const level = levels[i % bands] * Math.exp(truth((from + to) / 2) + 0.07 * random.gaussian());
        const linear = [level, level, level] as const;
        return { from, to, linear, lab: labFromLinear(linear) };
      });
      const places = cells.map((i) => ({ band: i % bands, repeat: Math.floor(i / bands) }));
      const found = lightBetweenRepeats(width, nodes, segments, places, bands);
      const due = Array.from(found, (_, k) => truth(((k + 0.5) * width) / nodes));
      const mean = due.reduce((sum, g) => sum + g, 0) / nodes;
      return Math.max(...due.map((g, k) => Math.abs(found[k] - (g - mean))));
    });
    expect(Math.max(...worst)).toBeLessThan(0.12);
  });
});
