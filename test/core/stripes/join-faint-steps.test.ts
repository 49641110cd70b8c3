import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import { joinFaintSteps } from '../../../src/core/stripes/join-faint-steps.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

const INDIGO = [0.03, 0.05, 0.13] as const;
const IVORY = [0.83, 0.76, 0.6] as const;

/** Bands of these widths and colours in a row. */
function row(
  ...bands: readonly (readonly [number, readonly [number, number, number], number?])[]
): Segment[] {
  let at = 0;
  return bands.map(([width, colour, gain = 1]) => {
    const from = at;
    at += width;
    const linear = colour.map((v) => v * gain) as [number, number, number];
    return { from, to: at, linear, lab: labFromLinear(linear) };
  });
}

describe('faint steps', () => {
  it('within a band are joined, those between bands stay', () => {
    const joined = joinFaintSteps(
      row([20, IVORY], [7, IVORY, 0.96], [15, IVORY, 1.03], [30, INDIGO], [12, IVORY, 0.97], [9, IVORY]),
    );
    expect(joined.map(({ from, to }) => [from, to])).toEqual([
      [0, 42],
      [42, 72],
      [72, 93],
    ]);
  });

  it('keep the light of what they join, by width', () => {
    const [one] = joinFaintSteps(row([30, IVORY], [10, IVORY, 0.96]));
    expect(one.linear[1]).toBeCloseTo(IVORY[1] * 0.99, 6);
  });

  it('leave no step under 3 CIEDE2000 and none over it out', () => {
    const steps = row([10, IVORY], [10, IVORY, 0.85], [10, IVORY, 0.8], [10, IVORY, 0.66]);
    const joined = joinFaintSteps(steps);
    expect(joined).toHaveLength(3);
    for (let i = 1; i < joined.length; i++)
      expect(ciede2000(joined[i - 1].lab, joined[i].lab)).toBeGreaterThan(3);
  });

  it('change nothing in an empty row or a row of one', () => {
    expect(joinFaintSteps([])).toEqual([]);
    expect(joinFaintSteps(row([10, IVORY]))).toHaveLength(1);
  });
});
