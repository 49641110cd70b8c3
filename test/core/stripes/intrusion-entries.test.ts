import { describe, expect, it } from 'vitest';
import { intrusionEntries } from '../../../src/core/stripes/intrusion-entries.js';

const lattice = { alongMm: 20, alongSdMm: 0.1, acrossRepeats: 1, dropMm: 5 };
const view = { fromVMm: -30, toVMm: 30 };
const always = (): boolean => true;

describe('intrusionEntries', () => {
  it('places a motif on every stretch it touches, lifted by the drop from one repeat to the next', () => {
    const box = { fromUMm: 8, toUMm: 14, fromVMm: -2, toVMm: 2 };
    const stretches = [
      { startMm: 0, endMm: 10 },
      { startMm: 10, endMm: 30 },
      { startMm: 30, endMm: 40 },
    ];
    const found = intrusionEntries([[box]], lattice, 30, stretches, view, always);
    const told = found.map((one) => [one.stretch, one.edge, one.depthMm, one.alongFromMm]);
    expect(told).toEqual([
      [0, 'end', 2, -22],
      [0, 'end', 2, -2],
      [0, 'end', 2, 18],
      [1, 'start', 4, -22],
      [1, 'start', 4, -2],
      [1, 'start', 4, 18],
      [2, 'end', 2, -17],
      [2, 'end', 2, 3],
      [2, 'end', 2, 23],
    ]);
  });

  it('gives two entries to a band that is covered from edge to edge', () => {
    const box = { fromUMm: 5, toUMm: 25, fromVMm: 0, toVMm: 4 };
    const found = intrusionEntries(
      [[box]],
      lattice,
      60,
      [{ startMm: 10, endMm: 18 }],
      { fromVMm: 0, toVMm: 4 },
      always,
    );
    expect(found.map((one) => [one.edge, one.depthMm])).toEqual([
      ['start', 8],
      ['end', 8],
    ]);
  });

  it('tells of a slanting motif only how far it reaches on each band', () => {
    const steps = [0, 1, 2, 3].map((k) => ({
      fromUMm: 6 + k,
      toUMm: 7 + k,
      fromVMm: 2 * k,
      toVMm: 2 * k + 2,
    }));
    const stretches = [
      { startMm: 0, endMm: 8 },
      { startMm: 8, endMm: 30 },
    ];
    const found = intrusionEntries([steps], lattice, 60, stretches, { fromVMm: 0, toVMm: 8 }, always);
    expect(found.map((one) => [one.edge, one.alongFromMm, one.alongToMm, one.depthMm])).toEqual([
      ['end', 0, 4, 2],
      ['start', 4, 8, 2],
    ]);
  });

  it('leaves out what was not seen, and keeps a long list short by staying near the origin', () => {
    const box = { fromUMm: 2, toUMm: 6, fromVMm: 0, toVMm: 4 };
    const stretches = Array.from({ length: 500 }, (_, k) => ({
      startMm: 10 * (k - 250),
      endMm: 10 * (k - 249),
    }));
    expect(intrusionEntries([[box]], lattice, 10, stretches, view, () => false)).toEqual([]);
    const found = intrusionEntries([[box]], lattice, 10, stretches, view, always);
    expect(found.length).toBeGreaterThan(800);
    expect(found.length).toBeLessThanOrEqual(1000);
    const furthest = Math.max(...found.map((one) => Math.abs(stretches[one.stretch].startMm)));
    expect(furthest).toBeLessThan(1700);
  });
});
