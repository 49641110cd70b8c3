import { ciede2000 } from '../colour/ciede2000.js';
import { labFromLinear } from '../colour/lab.js';
import { ALIKE } from './repeat-candidates.js';
import type { Segment } from './segment.js';

/**
 * The bands of several runs as one row, as they would be without the ruler that parts them: where the bands on either side of the gap
 * look alike they are one that passes under it, else their edge is put in its middle. With wide bands neither run alone
 * may show a repeat. `runs` in order of growing column.
 */
export function joinRuns(runs: readonly (readonly Segment[])[]): readonly Segment[] {
  const row: Segment[] = [];
  for (const run of runs) {
    const before = row[row.length - 1];
    const [after, ...rest] = run;
    if (before === undefined || after === undefined) row.push(...run);
    else if (ciede2000(before.lab, after.lab) <= ALIKE) {
      row[row.length - 1] = oneBand(before, after);
      row.push(...rest);
    } else {
      const edge = (before.to + after.from) / 2;
      row[row.length - 1] = { ...before, to: edge };
      row.push({ ...after, from: edge }, ...rest);
    }
  }
  return row;
}

/** Two neighbours as one. */
export function oneBand(before: Segment, after: Segment): Segment {
  const p = before.to - before.from;
  const q = after.to - after.from;
  const linear = [0, 1, 2].map((c) => (p * before.linear[c] + q * after.linear[c]) / (p + q)) as [
    number,
    number,
    number,
  ];
  return { from: before.from, to: after.to, linear, lab: labFromLinear(linear) };
}
