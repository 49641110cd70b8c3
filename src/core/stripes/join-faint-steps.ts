import { ciede2000 } from '../colour/ciede2000.js';
import { oneBand } from './join-runs.js';
import type { Segment } from './segment.js';

/** Neighbouring bands of a cloth differ by more than this (CIEDE2000); slubs, creases and what is left of the light need not. */
const FAINT = 3;

/** The row with bands joined, the likest first, until no step between neighbours is faint. */
export function joinFaintSteps(segments: readonly Segment[]): readonly Segment[] {
  const row = [...segments];
  const steps = row.slice(1).map((s, i) => ciede2000(row[i].lab, s.lab));
  for (;;) {
    const least = steps.indexOf(Math.min(...steps));
    if (least < 0 || steps[least] >= FAINT) return row;
    row.splice(least, 2, oneBand(row[least], row[least + 1]));
    steps.splice(least, 1);
    if (least > 0) steps[least - 1] = ciede2000(row[least - 1].lab, row[least].lab);
    if (least < steps.length) steps[least] = ciede2000(row[least].lab, row[least + 1].lab);
  }
}
