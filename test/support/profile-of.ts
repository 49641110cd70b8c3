import { labFromLinear } from '../../src/core/colour/lab.js';
import type { CrossProfile } from '../../src/core/stripes/cross-profile.js';

/** A cross profile seen whole, of linear colours column by column. */
export function profileOf(
  columns: number,
  linearAt: (column: number) => readonly [number, number, number],
): CrossProfile {
  const linear = new Float32Array(3 * columns);
  const lab = new Float32Array(3 * columns);
  for (let x = 0; x < columns; x++) {
    linear.set(linearAt(x), 3 * x);
    lab.set(labFromLinear([linear[3 * x], linear[3 * x + 1], linear[3 * x + 2]]), 3 * x);
  }
  const whole = new Float32Array(columns).fill(1);
  return {
    lab,
    linear,
    agreement: whole,
    closeAgreement: whole,
    weight: whole,
    from: 0,
    to: columns,
    runs: [[0, columns]],
  };
}
