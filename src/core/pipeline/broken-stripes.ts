import { formatTapeLength } from '../base/length.js';
import { type Outcome, refuse } from '../base/outcome.js';
import { halfTurn } from '../math/wrap.js';
import { meetingOf } from '../rectify/keep-apart.js';
import type { PictureLevels } from '../rectify/picture-levels.js';
import { blockLengthMm, runOn } from '../rectify/run-on.js';
import { rivalDirections, type StripeView, viewStripes } from '../rectify/stripe-view.js';
import { ALL, type FoundStripes, type StripeSearch } from './find-stripes.js';

/** Where less than this part of the edges runs on, there are no stripes across the view: garments, draped and printed over, keep half. */
const BROKEN = 1 / 3;
/** Blocks are told where most edges run on for a strip at least; text and wood grain end sooner. */
const IN_BLOCKS = 0.6;
/** Directions nearer each other than this are one that bends, radians. */
const ANOTHER = 0.25;
/** Each of two runs of stripes takes up this part of the picture at least, and they share a place less often than this times chance. */
const LEAST_SPREAD = 0.2;
const APART = 0.5;
/** Directions that meet less often than this times chance are no check's: they share the places where they join alone. */
const NO_CHECK = 0.25;
/** Directions in which blocks are looked for where no stripes were found. */
const MOST_RIVALS = 2;

/**
 * The stripes as found, unless they do not run through the view: a repeat of edges that break off, or change direction, from place to place
 * is none that a seam could be laid to, however often it comes. Where none were found, the refusal, or what is seen in their place.
 */
export function throughStripes(
  { levels, pxPerMm, hints: { directionDeg }, tried }: StripeSearch,
  found: Outcome<FoundStripes>,
): Outcome<FoundStripes> {
  if (found.ok) {
    const { view } = found.value;
    // A stretch that was read alone may lie in one block, or in one run.
    const isAll = found === tried.get(ALL);
    const whole = isAll ? view : viewStripes(levels, pxPerMm, view.frame.angle);
    const broken = whole && brokenIn(levels, whole, lengthOf(view));
    // Two directions that were both read all over the view are a check's, however seldom its faint edges show beside the strong ones.
    return broken ?? (found.value.across === null ? joinedIn(levels, pxPerMm, view) : null) ?? found;
  }
  if (directionDeg !== null || found.refusal.reason !== 'no-stripes') return found;
  for (const angle of [null, ...rivalDirections(levels, null).slice(0, MOST_RIVALS)]) {
    const view = viewStripes(levels, pxPerMm, angle);
    const refused = view && brokenIn(levels, view, lengthOf(view));
    if (refused) return refused;
  }
  return found;
}

/** How much of the cloth a view shows along its stripes, mm. */
const lengthOf = ({ straight: { cloth } }: StripeView): number => cloth.picture.height * cloth.mmPerRow;

/** The refusal of stripes that break off in blocks, of which what was read, so long, would hold two and more; null where they run on. */
function brokenIn(
  levels: PictureLevels,
  { frame, straight }: StripeView,
  readMm: number,
): Outcome<never> | null {
  const run = runOn(straight.cloth);
  if (run === null || run.shares[0] < IN_BLOCKS || Math.min(...run.shares) >= BROKEN) return null;
  const blockMm = blockLengthMm(run);
  // Stripes end, too, where other cloth covers them: what is left was read then, and is whole.
  if (2 * blockMm > readMm) return null;
  const lengthMm = Number(blockMm.toPrecision(2));
  const long = `about ${lengthMm} mm (${formatTapeLength(lengthMm, 'inch')}) long`;
  const both = directionsApart(levels, frame.angle, APART);
  return both === null
    ? refusalOf(`The stripes are broken into blocks ${long}, and do not go on from one to the next`, 'block')
    : changing(both, `, in runs ${long}`);
}

/** The refusal of two runs of stripes that lie side by side, and of which each runs on as the bands of a check do; null of all else. */
function joinedIn(levels: PictureLevels, pxPerMm: number, { frame }: StripeView): Outcome<never> | null {
  const both = directionsApart(levels, frame.angle, NO_CHECK);
  if (both === null) return null;
  // What lies beside the cloth, such as a table's boards, does not run on among the stripes.
  const second = viewStripes(levels, pxPerMm)?.second ?? null;
  return second === null ? null : changing(both, '');
}

/**
 * The given direction and another of edges, each over much of the picture, that meet less often than so many times chance, radians; null
 * without.
 */
function directionsApart(
  levels: PictureLevels,
  angle: number,
  apart: number,
): readonly [number, number] | null {
  for (const rival of rivalDirections(levels, angle)) {
    if (Math.abs(halfTurn(rival - angle)) < ANOTHER) continue;
    const { spreads, angles, timesChance } = meetingOf(levels, angle, rival);
    if (Math.min(...spreads) >= LEAST_SPREAD && timesChance < apart) return angles;
  }
  return null;
}

function changing(both: readonly [number, number], long: string): Outcome<never> {
  const [low, high] = both
    .map((angle) => ((Math.round((angle * 180) / Math.PI) % 180) + 180) % 180)
    .sort((p, q) => p - q);
  return refusalOf(
    `The stripes change direction from place to place (they run at ${low} and at ${high} degrees${long})`,
    'run',
  );
}

function refusalOf(found: string, part: 'block' | 'run'): Outcome<never> {
  const remedy = `measure one ${part} alone (say where in the photo it lies, or go nearer until it fills the photo)`;
  return refuse('no-stripes', found, remedy, ['region']);
}
