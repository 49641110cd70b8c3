import { type Outcome, refuse, succeed } from '../base/outcome.js';
import type { Stage, StripeHints } from '../base/request.js';
import type { Point } from '../math/matrix3.js';
import { halfTurn } from '../math/wrap.js';
import { hidingMore, type PictureLevels } from '../rectify/picture-levels.js';
import { pictureFromStraight } from '../rectify/stripe-frame.js';
import { rivalDirections, type StripeView, spreadOfDirection, viewStripes } from '../rectify/stripe-view.js';
import { readAndTrace, type TracedStripes, traceReading } from './measure-stripes.js';

/** Stripes as found, and the picture with all that was taken for no cloth hidden. */
export interface FoundStripes {
  readonly levels: PictureLevels;
  readonly view: StripeView;
  readonly traced: TracedStripes;
  /** The other direction of a check; null with the view's. */
  readonly across: TracedStripes | null;
  /** Another direction runs as unbroken as the stripes and could not be read: it is the view's rival. */
  readonly isHalfRead: boolean;
}

export interface StripeSearch {
  readonly levels: PictureLevels;
  readonly pxPerMm: number;
  /** Shadow and bevel beside a ruler, px. */
  readonly marginPx: number;
  readonly hints: StripeHints;
  /** What the first look finds was seen to be wrong: it must not be all. */
  readonly isDoubted: boolean;
  /** Outlines of other rulers that lie on the cloth, picture px; asked for only where plain reading fails. */
  readonly others: () => readonly (readonly Point[])[];
  /** What was tried for this photo, by name: a second search of doubted stripes tries the same and more. */
  readonly tried: Map<string, Outcome<FoundStripes>>;
  /** Told at the start of each stage. */
  readonly begin: (stage: Stage) => void;
}

/** A picture in which stripes are looked for, and what tells it from others of the same photo. */
interface Place {
  readonly levels: PictureLevels;
  readonly name: string;
}

/** What the first look of a search is called among those tried: at all of the picture. */
export const ALL = 'all';
/** Parts of the length along the stripes that are looked at alone. */
const STRETCHES = [
  [0, 0.5],
  [0.5, 1],
  [0.25, 0.75],
  [0, 0.34],
  [0.33, 0.67],
  [0.66, 1],
] as const;
/** A second direction that shows in no more than this part of the picture is no check's. */
const MOST_SPREAD = 0.75;
/** Least confidence of a repeat read from one stretch, and repeats in view beyond which more add nothing to it. */
const SURE = 0.6;
const LESS_SURE = 0.5;
const CLEARLY_SEEN = 3;
/** So sure of one stretch there is no need to look at others. */
const ENOUGH = 0.9;

/**
 * Direction, bands and edges of the stripes. Where they cannot be read in all of the picture, what lies on the cloth is in the way: other
 * rulers are hidden then, one stretch along the stripes after another is read alone, as a person would choose a region free of a hand,
 * and other directions are tried. Of a check half read, stretches that show both its directions come first.
 */
export function findStripes(search: StripeSearch): Outcome<FoundStripes> {
  const plain = attempt(search, { levels: search.levels, name: ALL });
  if (isWhole(plain) && !isDisturbed(plain) && !isHalfRead(plain) && !search.isDoubted) return plain;
  let best = plain;
  const most = search.isDoubted ? 0 : merit(plain);
  let place: Place = { levels: search.levels, name: ALL };
  const others = search.others();
  if (others.length > 0) {
    place = { levels: hidingMore(search.levels, others, search.marginPx), name: 'clear' };
    const clear = attempt(search, place);
    if (isWhole(clear) && merit(clear) >= most && !isHalfRead(clear)) return clear;
    if (clear.ok && !isWhole(plain)) best = clear;
  }
  if (isHalfRead(best)) {
    // A stretch that shows both directions of a check says more than all of one of them.
    const asCheck = surestStretch(search, place, best, { least: SURE, above: 0, across: 'read' });
    if (asCheck !== null) return asCheck;
  }
  if (most >= SURE) return plain;
  // What comes again across them is no hand's.
  const isCheck = best.ok && isReadAcross(best.value);
  const alone = isCheck ? null : attemptAsStripes(search, place);
  if (alone !== null && isWhole(alone) && merit(alone) >= most) return alone;
  const rivals = best.ok
    ? null
    : alongRivals(search, place, viewOf(search, place.levels)?.frame.angle ?? null);
  if (rivals !== null) return rivals;
  const stretch = surestStretch(search, place, best, {
    // What is surer than a doubtful whole need not be as sure as what stands in for none.
    least: isWhole(plain) ? LESS_SURE : SURE,
    above: most,
    across: isCheck ? 'read' : 'any',
  });
  if (stretch !== null) return stretch;
  return best.ok && !isWhole(best) ? (alongRivals(search, place, best.value.view.frame.angle) ?? best) : best;
}

interface StretchSearch {
  /** Least confidence of its repeat, and the merit it must exceed. */
  readonly least: number;
  readonly above: number;
  /** Whether a second direction must come again, too. */
  readonly across: 'read' | 'any';
}

/** The surest reading of one stretch along the stripes alone; null where none is sure enough. */
function surestStretch(
  search: StripeSearch,
  { levels, name }: Place,
  found: Outcome<FoundStripes>,
  { least, above, across }: StretchSearch,
): Outcome<FoundStripes> | null {
  let best: Outcome<FoundStripes> | null = null;
  let most = above;
  for (const region of stretches(search, levels, found)) {
    const part = attempt(search, {
      levels: hidingMore(levels, [], 0, region),
      name: `${name} ${region.flat().map(Math.round).join(' ')}`,
    });
    if (!part.ok || !isWhole(part) || (across === 'read' && !isReadAcross(part.value))) continue;
    const { view, traced } = part.value;
    const score = merit(part);
    if (traced.reading.confidence < least || score <= most) continue;
    most = score;
    const isBoth = part.value.across !== null;
    // Edges hold beyond the stretch, too, and far ones tell tilt best.
    best = succeed({
      ...part.value,
      levels,
      view: { ...view, rivalAngle: view.rivalAngle ?? (isBoth ? null : otherDirection(found, view)) },
      traced: { ...traced, edges: traceReading(levels, view, traced.reading) },
    });
    if (score > ENOUGH) break;
  }
  return best;
}

/** Directions further apart than this are not one seen twice, radians. */
const APART = 0.35;

/** The direction found first, where another was read in its stead: it may be the stripes' all the same. */
function otherDirection(first: Outcome<FoundStripes>, { frame }: StripeView): number | null {
  if (!first.ok) return null;
  const { angle } = first.value.view.frame;
  return Math.abs(halfTurn(frame.angle - angle)) > APART ? angle : null;
}

/** Directions tried where the likeliest shows no stripes. */
const MOST_RIVALS = 4;
/** What was not looked for must be the surer. */
const RIVAL_SURE = 0.8;

/** The surest reading along another direction of the picture's edges than the one found: threads, or what lies on the cloth, may have more of them. */
function alongRivals(search: StripeSearch, place: Place, found: number | null): Outcome<FoundStripes> | null {
  if (search.hints.directionDeg !== null) return null;
  let best: Outcome<FoundStripes> | null = null;
  let most = RIVAL_SURE;
  for (const angle of rivalDirections(place.levels, found).slice(0, MOST_RIVALS)) {
    const along = attempt(
      { ...search, hints: { ...search.hints, directionDeg: (angle * 180) / Math.PI } },
      { ...place, name: `${place.name} along ${angle}` },
    );
    if (!along.ok || !isWhole(along) || merit(along) <= most) continue;
    most = merit(along);
    // What the picture's edges say first may be the stripes all the same.
    best =
      found === null ? along : succeed({ ...along.value, view: { ...along.value.view, rivalAngle: found } });
    if (most > ENOUGH) break;
  }
  return best;
}

const isWhole = (found: Outcome<FoundStripes>): boolean =>
  found.ok && found.value.traced.reading.bandsPerRepeat !== null;

const isHalfRead = (found: Outcome<FoundStripes>): boolean => found.ok && found.value.isHalfRead;

const isReadAcross = ({ across }: FoundStripes): boolean =>
  across !== null && across.reading.bandsPerRepeat !== null;

/** How far a repeat can be relied on: one seen often and surely most; 0 without one. */
function merit(found: Outcome<FoundStripes>): number {
  if (!found.ok) return 0;
  const { bandsPerRepeat, confidence, repeatsSeen } = found.value.traced.reading;
  return bandsPerRepeat === null ? 0 : confidence * Math.min(1, repeatsSeen / CLEARLY_SEEN);
}

/**
 * A repeat that is not sure, or some of the bands among those in its order that are none of it: another ruler may lie on them, which the
 * repeat was then made to fit.
 */
function isDisturbed(found: Outcome<FoundStripes>): boolean {
  if (!found.ok || found.value.view.secondAngle !== null) return false;
  const { places, confidence } = found.value.traced.reading;
  const placed = places.map((place) => place !== null);
  const strays = placed.slice(placed.indexOf(true), placed.lastIndexOf(true) + 1).filter((is) => !is);
  return confidence < ENOUGH || strays.length > 0;
}

/** Without the second direction, where it shows in a few places only: what crosses are the edges of a hand. */
function attemptAsStripes(search: StripeSearch, { levels, name }: Place): Outcome<FoundStripes> | null {
  const view = viewOf(search, levels);
  if (view === null || view.secondAngle === null) return null;
  if (spreadOfDirection(levels, view.secondAngle) > MOST_SPREAD) return null;
  return onceTried(search, `${name} as stripes`, () => traceIn(search, levels, asStripes(view)));
}

const viewOf = (
  { pxPerMm, hints: { directionDeg } }: StripeSearch,
  levels: PictureLevels,
): StripeView | null =>
  viewStripes(levels, pxPerMm, directionDeg === null ? null : (directionDeg * Math.PI) / 180);

const attempt = (search: StripeSearch, { levels, name }: Place): Outcome<FoundStripes> =>
  onceTried(search, name, () => lookIn(search, levels));

function onceTried(
  { tried }: StripeSearch,
  name: string,
  look: () => Outcome<FoundStripes>,
): Outcome<FoundStripes> {
  const found = tried.get(name) ?? look();
  tried.set(name, found);
  return found;
}

function lookIn(search: StripeSearch, levels: PictureLevels): Outcome<FoundStripes> {
  const { directionDeg } = search.hints;
  search.begin('stripes');
  const view = viewOf(search, levels);
  if (view === null) {
    return directionDeg === null
      ? refuse(
          'no-stripes',
          'No stripes found',
          'photograph striped cloth with at least two repeats in view, or say where they are or how they run',
          ['region', 'direction'],
        )
      : refuse(
          'no-stripes',
          `No stripes found near the direction given (${directionDeg.toFixed(0)} degrees)`,
          'give it as seen in the photo when upright: 0 level, 90 upright, 45 rising to the right',
          ['direction'],
        );
  }
  return traceIn(search, levels, view);
}

/** A second direction with fewer bands and no repeat is that of a ruler, a selvage or a fold. */
const FEWEST_ACROSS = 6;

function traceIn(search: StripeSearch, levels: PictureLevels, view: StripeView): Outcome<FoundStripes> {
  search.begin('edges');
  let across: TracedStripes | null = null;
  if (view.second !== null) {
    const read = readAndTrace(levels, view.second, 'check');
    if (!read.ok) {
      const asOne = traceIn(search, levels, asStripes(view));
      const { angle } = view.second.frame;
      return spreadOfDirection(levels, angle) > MOST_SPREAD ? halfRead(asOne, angle) : asOne;
    }
    const { bandsPerRepeat, segments } = read.value.reading;
    if (bandsPerRepeat === null && segments.length < FEWEST_ACROSS)
      return traceIn(search, levels, asStripes(view));
    across = read.value;
  }
  const traced = readAndTrace(levels, view, across ? 'check' : 'stripe', search.hints.bands);
  if (traced.ok) return succeed({ levels, view, traced: traced.value, across, isHalfRead: false });
  // Of a check in which one direction cannot be read the other can still be told.
  if (!view.second || !across || across.reading.bandsPerRepeat === null) return traced;
  const other = { levels, view: asStripes(view.second), traced: across, across: null, isHalfRead: true };
  return halfRead(succeed(other), view.frame.angle);
}

/** The stripes of one direction, with the other that could not be read as their rival. */
function halfRead(found: Outcome<FoundStripes>, rivalAngle: number): Outcome<FoundStripes> {
  if (!found.ok) return found;
  return succeed({ ...found.value, view: { ...found.value.view, rivalAngle }, isHalfRead: true });
}

const asStripes = (view: StripeView): StripeView => ({ ...view, secondAngle: null, second: null });

/** Stretches of the picture along its stripes as polygons in picture px. */
function stretches(
  { pxPerMm }: StripeSearch,
  levels: PictureLevels,
  found: Outcome<FoundStripes>,
): Point[][] {
  const view = found.ok ? found.value.view : viewStripes(levels, pxPerMm);
  if (view === null) return [];
  const { frame, straight } = view;
  const { picture } = straight.cloth;
  const at = (column: number, row: number): Point =>
    pictureFromStraight(
      frame,
      straight.uFromPx + column * straight.pxPerColumn,
      straight.vFromPx - row * straight.pxPerRow,
    );
  return STRETCHES.map(([from, to]) => [
    at(0, from * picture.height),
    at(picture.width, from * picture.height),
    at(picture.width, to * picture.height),
    at(0, to * picture.height),
  ]);
}
