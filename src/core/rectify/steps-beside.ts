import { median } from '../math/robust.js';
import type { LinearColour } from './bare-edge.js';
import type { NextStep } from './fit-step.js';
import { type LumaStep, shareOfColour } from './luma-step.js';

/** What an edge does to a place further away than so many times the blur is not seen. */
export const CLEAR_OF_BLUR = 2.5;

/** The edges of a picture, in their order across: the colours on either side, and how luma tells these apart. */
export interface EdgeColours {
  readonly sides: readonly (readonly [LinearColour, LinearColour])[];
  readonly lumas: readonly (LumaStep | null)[];
}

/**
 * The edges before and after edge e, where they are no further than `reachPx`, as steps beside its own, whose height is 1.
 *
 * @param gapsPx From every edge to the next.
 * @param stepPx Of a sample.
 */
export function stepsBeside(
  { sides, lumas }: EdgeColours,
  gapsPx: ArrayLike<number>,
  e: number,
  reachPx: number,
  stepPx: number,
): NextStep[] {
  const out: NextStep[] = [];
  const shareOf = (colour: LinearColour): number => shareOfColour(colour, sides[e], lumas[e]);
  if (gapsPx[e - 1] < reachPx) out.push({ at: -gapsPx[e - 1] / stepPx, height: -shareOf(sides[e - 1][0]) });
  if (gapsPx[e] < reachPx) out.push({ at: gapsPx[e] / stepPx, height: shareOf(sides[e + 1][1]) - 1 });
  return out;
}

/** From every edge to the next, px: the median over the windows in which both were seen; as they were expected where there is none. */
export function gapsSeen(edgesU: readonly number[], placesU: Float64Array, windows: number): Float64Array {
  return Float64Array.from({ length: Math.max(0, edgesU.length - 1) }, (_, e) => {
    const gaps: number[] = [];
    for (let w = 0; w < windows; w++) {
      const gap = placesU[(e + 1) * windows + w] - placesU[e * windows + w];
      if (!Number.isNaN(gap)) gaps.push(gap);
    }
    return gaps.length > 0 ? median(gaps) : edgesU[e + 1] - edgesU[e];
  });
}
