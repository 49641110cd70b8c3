import { HAIR_MM } from './compiled.js';
import type { Place } from './fit-problem.js';
import { farthestShift, type Search } from './search.js';

/** The allowed place of an item nearest to one, laid as that is, within what may be used of the bin now; null where there is none. */
export function snappedPlace(
  search: Search,
  item: number,
  { bin, choice, across, slide }: Place,
): Place | null {
  const own = search.compiled.choices[item][bin][choice];
  const { bounds, columns, slideAt, slideStepMm } = own;
  const isAlongAcross = search.compiled.alongAxis[bin] === 0;
  const most = farthestShift(search, bin, own);
  const highAcross = isAlongAcross ? most : bounds[1];
  const highSlide = isAlongAcross ? bounds[3] : most;
  if (highAcross < bounds[0] || highSlide < bounds[2]) return null;
  let column = 0;
  let at = Math.min(highAcross, Math.max(bounds[0], across));
  if (columns !== null) {
    column = -1;
    for (let k = 0; k < columns.length && columns[k] <= highAcross + HAIR_MM; k++)
      if (column < 0 || Math.abs(columns[k] - across) < Math.abs(columns[column] - across)) column = k;
    if (column < 0) return null;
    at = columns[column];
  }
  const along = Math.min(highSlide, Math.max(bounds[2], slide));
  if (slideAt === null) return { bin, choice, across: at, slide: along };
  const first = slideAt[column];
  const step = slideStepMm > 0 ? slideStepMm : Infinity;
  let turns = step === Infinity ? 0 : Math.round((along - first) / step);
  if (step !== Infinity && first + turns * step > highSlide + HAIR_MM) turns--;
  if (step !== Infinity && first + turns * step < bounds[2] - HAIR_MM) turns++;
  const there = step === Infinity ? first : first + turns * step;
  if (there < bounds[2] - HAIR_MM || there > highSlide + HAIR_MM) return null;
  return { bin, choice, across: at, slide: there };
}
