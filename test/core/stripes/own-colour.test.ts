import { describe, expect, it } from 'vitest';
import { ownColour } from '../../../src/core/stripes/own-colour.js';

const segment = (from: number, to: number) => ({
  from,
  to,
  lab: [50, 0, 0] as const,
  linear: [0.2, 0.2, 0.2] as const,
});

describe('ownColour', () => {
  // Band 0 three times, the first cut off by the rim and in a colour of its own; band 1 between.
  const reading = {
    segments: [segment(0, 4), segment(4, 20), segment(20, 50), segment(50, 66), segment(66, 96)],
    colours: [2, 1, 0, 1, 0],
  };
  const bandOf = (s: number) => (s === 3 ? null : s % 2);

  it('is that of most of its length, not of the first instance', () => {
    expect(ownColour(reading, bandOf, 0)).toBe(0);
  });
  it('asks the instances that have a place only, and is the first colour where there are none', () => {
    expect(ownColour(reading, bandOf, 1)).toBe(1);
    expect(ownColour(reading, bandOf, 5)).toBe(0);
  });
});
