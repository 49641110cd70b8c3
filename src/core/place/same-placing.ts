import { flipped } from './miss/area-misses.js';
import type { AskedCloth } from './miss/asked-cloth.js';
import { areaInEither, unlikeStrips } from './miss/either-unlike.js';
import { stripsOver, unlikeArea } from './miss/shown-area.js';
import type { Placing } from './search/problem.js';
import { areaProfile } from './shape/area-profile.js';
import type { CopyShape } from './shape/copy-shape.js';

/** Two placings that show the same colours over this much of the garment look alike. */
const ALIKE_SHARE = 0.9;
/** Two places nearer than this part of the repeat are one. */
const NEAR_PART = 0.1;

/**
 * Whether two placings are one to a person: every copy on the same face, the same way round and within a tenth of the repeat of the other,
 * or nine tenths of the area in the same colours.
 */
export function sameToTheEye(
  cloth: AskedCloth | null,
  shapes: readonly CopyShape[],
): (one: Placing, other: Placing) => boolean {
  if (cloth === null) return () => true;
  const profiles = shapes.map(({ outline }) => ({
    across: areaProfile([outline]),
    along: areaProfile([flipped(outline)]),
    inEither: areaInEither(outline),
  }));
  const total = profiles.reduce((sum, { across }) => sum + across.areaMm2, 0);
  const isNear = (one: number, other: number, periodMm: number, isRound: boolean): boolean => {
    const off = Math.abs(one - other);
    return (isRound ? Math.min(off % periodMm, periodMm - (off % periodMm)) : off) <= NEAR_PART * periodMm;
  };
  const { across, along } = cloth;
  const isBeside = (one: Placing, other: Placing): boolean =>
    one.every((a, k) => {
      const b = other[k];
      return (
        a.option.face === b.option.face &&
        a.option.turned === b.option.turned &&
        isNear(a.across.offsetMm, b.across.offsetMm, across.stripes.periodMm, across.line.seenMm === null) &&
        (along === null ||
          isNear(a.along.offsetMm, b.along.offsetMm, along.stripes.periodMm, along.line.seenMm === null))
      );
    });
  const unlikeMm2 = (one: Placing, other: Placing, copy: number): number => {
    const profile = profiles[copy];
    const strips = [one, other].map((placing) =>
      stripsOver(profile.across, across.line, placing[copy].across),
    );
    if (along === null) return unlikeArea(strips, across.line.colour);
    const cross = [one, other].map((placing) => stripsOver(profile.along, along.line, placing[copy].along));
    return profile.inEither(
      unlikeStrips(profile.across.fromMm[0], strips, across.line.colour),
      unlikeStrips(profile.along.fromMm[0], cross, along.line.colour),
    );
  };
  return (one, other) =>
    isBeside(one, other) ||
    shapes.reduce((sum, _, copy) => sum + unlikeMm2(one, other, copy), 0) <= (1 - ALIKE_SHARE) * total;
}
