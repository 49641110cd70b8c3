import { MM_PER_INCH } from '../base/length.js';
import type { BandModel, Point } from '../model/band-model.js';
import { numberedRepeats } from '../model/numbered-repeats.js';
import type { Level, OverlayMarks } from '../render/overlay-marks.js';
import type { ViewOfCloth } from './view-of-cloth.js';

/** Levels to be marked along the stripes, at most: more would crowd the margin. */
const MOST_LEVELS = 14;
const STEPS_MM = [10, 20, 50, 100, 200, 500, 1000];
const STEPS_INCH = [0.5, 1, 2, 4, 8, 16, 32].map((inches) => inches * MM_PER_INCH);

/** What lets a person find a repeat by its number and a place by its length along the stripes. */
export function gridMarks(
  model: BandModel,
  view: ViewOfCloth,
): Pick<OverlayMarks, 'repeats' | 'levels' | 'zeroLine' | 'origin'> {
  const { photoFromCloth, alongAt, acrossAt } = view;
  const endsAlong = (u: number): readonly [Point, Point] | null => {
    const seen = alongAt(u);
    return seen && [photoFromCloth(u, seen[0]), photoFromCloth(u, seen[1])];
  };
  const zero = acrossAt(0);
  return {
    repeats: numberedRepeats(model).map(({ repeat, startMm, endMm }) => ({
      repeat,
      start: endsAlong(startMm),
      middle: endsAlong((startMm + endMm) / 2),
    })),
    levels: { mm: levelsOf(view, STEPS_MM), inch: levelsOf(view, STEPS_INCH) },
    // Enough points to follow the lens.
    zeroLine:
      zero &&
      Array.from({ length: 13 }, (_, i) => photoFromCloth(zero[0] + ((zero[1] - zero[0]) * i) / 12, 0)),
    origin: model.origin
      ? { at: model.origin.at_px, onZeroLine: photoFromCloth(model.origin.u_mm, 0), vMm: model.origin.v_mm }
      : null,
  };
}

/** Lines square across the stripes at whole steps from 0, as far as they are in view: the finest step that is not too fine. */
function levelsOf({ acrossAt, photoFromCloth, reachMm }: ViewOfCloth, steps: readonly number[]): Level[] {
  let levels: Level[] = [];
  for (const step of steps) {
    levels = [];
    const most = Math.floor(reachMm / step);
    for (let k = -most; k <= most; k++) {
      const vMm = k * step;
      const seen = acrossAt(vMm);
      if (seen) levels.push({ vMm, ends: [photoFromCloth(seen[0], vMm), photoFromCloth(seen[1], vMm)] });
    }
    if (levels.length <= MOST_LEVELS) break;
  }
  return levels;
}
