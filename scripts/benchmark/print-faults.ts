import type { BandModel } from '../../src/core/model/band-model.js';
import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';

/** How far the repeat along may be off, in percent, and a drop, as a part of it. */
const ALONG_PERCENT = 0.5;
const DROP = 0.01;

/** What is wrong with a print as read: its repeat along the stripes, how columns are set, which way it points; or that one was read on plain stripes. */
export function printFaults({ repeat, symmetry }: BandModel, truth: SceneTruth): string[] {
  const { repeat_along_mm: alongMm, drop, directional } = truth;
  if (alongMm === null) return repeat.along_mm === null ? [] : ['a repeat along plain stripes'];
  if (repeat.along_mm === null) return ['no repeat along'];
  const faults: string[] = [];
  const percent = 100 * (repeat.along_mm / alongMm - 1);
  if (Math.abs(percent) > ALONG_PERCENT) faults.push(`repeat along ${percent.toFixed(2)} % off`);
  const off = (repeat.drop_fraction ?? 0) - (drop ?? 0);
  if (Math.abs(off - Math.round(off)) > DROP)
    faults.push(`drop ${repeat.drop_fraction?.toFixed(3)} of ${drop}`);
  if (directional !== null && symmetry.directional !== directional)
    faults.push(symmetry.directional === null ? 'no verdict of direction' : 'verdict of direction wrong');
  return faults;
}
