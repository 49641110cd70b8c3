import { describe, expect, it } from 'vitest';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import { joinRuns } from '../../../src/core/stripes/join-runs.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

const INDIGO = [0.02, 0.03, 0.12] as const;
const IVORY = [0.85, 0.8, 0.68] as const;

const band = (from: number, to: number, linear: Segment['linear']): Segment => ({
  from,
  to,
  linear,
  lab: labFromLinear([...linear]),
});

describe('joinRuns', () => {
  it('makes one band of two alike that a ruler parts', () => {
    const row = joinRuns([
      [band(0, 100, INDIGO), band(100, 150, IVORY)],
      [band(190, 260, IVORY), band(260, 360, INDIGO)],
    ]);
    expect(row.map((b) => [b.from, b.to])).toEqual([
      [0, 100],
      [100, 260],
      [260, 360],
    ]);
  });

  it('puts the edge of two unlike ones in the middle of the gap', () => {
    const row = joinRuns([[band(0, 100, INDIGO)], [band(140, 200, IVORY)]]);
    expect(row.map((b) => [b.from, b.to])).toEqual([
      [0, 120],
      [120, 200],
    ]);
  });

  it('leaves a single run as it is, and passes over empty ones', () => {
    const run = [band(0, 100, INDIGO), band(100, 150, IVORY)];
    expect(joinRuns([run])).toEqual(run);
    expect(joinRuns([[], run, []])).toEqual(run);
  });
});
