import { describe, expect, it } from 'vitest';
import { labFromLinear } from '../../../src/core/colour/lab.js';
import { alignBands } from '../../../src/core/stripes/align-bands.js';
import type { Segment } from '../../../src/core/stripes/segment.js';

const LINEAR = {
  indigo: [0.023, 0.042, 0.125],
  ivory: [0.83, 0.76, 0.6],
  ochre: [0.51, 0.24, 0.04],
} as const;
const REPEAT = [
  ['indigo', 40],
  ['ivory', 12],
  ['ochre', 9],
  ['ivory', 25],
] as const;

/** Whole repeats of the ticking, cut from `from` to `to`. */
function cloth(from: number, to: number): Segment[] {
  const segments: Segment[] = [];
  for (let k = 0, at = 0; at < to; k++) {
    const [colour, width] = REPEAT[k % REPEAT.length];
    const linear = LINEAR[colour];
    const [a, b] = [Math.max(from, at), Math.min(to, at + width)];
    if (b > a) segments.push({ from: a, to: b, linear, lab: labFromLinear(linear) });
    at += width;
  }
  return segments;
}

/** What the counts should be, up to where counting begins. */
const steps = (counts: readonly (number | null)[]): (number | null)[] => {
  const first = counts.find((c) => c !== null) ?? 0;
  return counts.map((c) => (c === null ? null : c - first));
};

describe('alignBands', () => {
  it('counts straight on through an unspoilt cloth', () => {
    const run = cloth(13, 600);
    expect(steps(alignBands([run], 4))).toEqual(run.map((_, i) => i));
  });

  it('passes over a band that was split and keeps the count after it', () => {
    const run = cloth(13, 600);
    const { from, to, linear, lab } = run[9];
    const third = (to - from) / 3;
    const smudge = { linear: LINEAR.ochre, lab: labFromLinear(LINEAR.ochre) };
    run.splice(
      9,
      1,
      { from, to: from + third, linear, lab },
      { from: from + third, to: from + 2 * third, ...smudge },
      { from: from + 2 * third, to, linear, lab },
    );
    const counts = steps(alignBands([run], 4));
    expect(counts.slice(0, 9)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect(counts.slice(12)).toEqual(run.slice(12).map((_, i) => i + 10));
  });

  it('steps over a band that was missed', () => {
    const run = cloth(0, 600);
    const line = run.findIndex((s, i) => i > 8 && s.linear === LINEAR.ochre);
    run.splice(line - 1, 3, { ...run[line - 1], to: run[line + 1].to });
    const counts = steps(alignBands([run], 4));
    expect(counts.slice(line + 1)).toEqual(run.slice(line + 1).map((_, i) => i + line + 3));
  });

  it('counts on behind a ruler by the width that it hides', () => {
    const whole = cloth(0, 860);
    const count = (s: Segment) => whole.findIndex((w) => w.from <= s.from && w.to >= s.to);
    for (const [hidden, until] of [
      [300, 340],
      [295, 420],
      [301, 318],
    ]) {
      const runs = [cloth(0, hidden), cloth(until, 860)];
      expect(steps(alignBands(runs, 4)), `${hidden} to ${until}`).toEqual(runs.flat().map(count));
    }
  });
});
