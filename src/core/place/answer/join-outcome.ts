import type { AskedCloth, AskedStripes } from '../miss/asked-cloth.js';
import { type ShownSide, shownSide, unlikeOn } from '../miss/seam-misses.js';
import type { Stretches } from '../miss/stretches.js';
import type { FoundJoin } from '../plan/plan-terms.js';
import type { LaidCopy } from '../shape/copy-shape.js';
import { driftOf } from './join-drift.js';
import { joinExpectation, type KnownUnevenness } from './join-expectation.js';
import type { EdgeCrossed, JoinCrossing, JoinOutcome } from './placement.js';
import { roundedMm } from './rounded.js';

/** Edges that meet the seam so near to each other on its two sides are one crossing, mm: half the finest line a chalk draws. */
const ONE_CROSSING_MM = 0.05;

/** How a join comes out. Plain cloth: nothing is unlike, nothing crosses. */
export function joinOutcome(
  cloth: AskedCloth | null,
  join: FoundJoin,
  lays: readonly LaidCopy[],
  known: KnownUnevenness | null,
): JoinOutcome {
  if (cloth === null)
    return { id: join.id, unlike_mm: 0, worst_mm: 0, crossings: [], drift: null, expected: null };
  const sides: [ShownSide, ShownSide] = [shownSide(cloth, join.left), shownSide(cloth, join.right)];
  const [left, right] = [lays[join.left.copy], lays[join.right.copy]];
  const { lengthMm } = join.left.path;
  const unlike = unlikeOn(cloth, sides, [left, right]).map(([from, to]) => (to - from) * lengthMm);
  const unlikeMm = unlike.reduce((sum, one) => sum + one, 0);
  const edges = [
    ...edgesOf(cloth.across, sides[0].across(left), 'left', lengthMm),
    ...edgesOf(cloth.across, sides[1].across(right), 'right', lengthMm),
    ...(cloth.along === null || sides[0].along === null || sides[1].along === null
      ? []
      : [
          ...edgesOf(cloth.along, sides[0].along(left), 'left', lengthMm, 'along'),
          ...edgesOf(cloth.along, sides[1].along(right), 'right', lengthMm, 'along'),
        ]),
  ];
  return {
    id: join.id,
    unlike_mm: roundedMm(unlikeMm),
    worst_mm: roundedMm(Math.max(0, ...unlike)),
    crossings: paired(edges),
    drift: driftOf(cloth.across, join, [left, right]),
    expected: known === null ? null : joinExpectation(cloth, join, [left, right], unlikeMm, known),
  };
}

interface Edge {
  readonly atMm: number;
  readonly side: 'left' | 'right';
  readonly crossed: EdgeCrossed;
}

function edgesOf(
  { line, stripes }: AskedStripes,
  { count, endPart, index }: Stretches,
  side: Edge['side'],
  lengthMm: number,
  direction?: 'along',
): Edge[] {
  const name = (k: number): string => stripes.bandIds[line.band[index[k]]];
  return Array.from({ length: count - 1 }, (_, k) => ({
    atMm: endPart[k] * lengthMm,
    side,
    crossed: { before: name(k), after: name(k + 1), ...(direction === undefined ? {} : { direction }) },
  }));
}

/** Edges in order along the join; those of the two sides that meet are one. */
function paired(edges: readonly Edge[]): JoinCrossing[] {
  const found: { at_mm: number; left: EdgeCrossed | null; right: EdgeCrossed | null }[] = [];
  for (const { atMm, side, crossed } of [...edges].sort((a, b) => a.atMm - b.atMm)) {
    const partner = found.find(
      (one) =>
        one[side] === null &&
        Math.abs(one.at_mm - atMm) < ONE_CROSSING_MM &&
        (one.left ?? one.right)?.direction === crossed.direction,
    );
    if (partner !== undefined) partner[side] = crossed;
    else found.push({ at_mm: atMm, left: null, right: null, [side]: crossed });
  }
  return found.map((one) => ({ ...one, at_mm: roundedMm(one.at_mm) }));
}
