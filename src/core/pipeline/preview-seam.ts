import { type Outcome, succeed, UsageError } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { bandMiddleU, type ClothPattern, clothPattern } from '../model/cloth-pattern.js';
import { agreeingPlaces, shiftToAgreeAt } from '../seam/agreement.js';
import { allowedLays, type LayVerdict, type SymmetryVerdict } from '../seam/allowed-lays.js';
import { bestPlaces, type NoBest, type PlacePair } from '../seam/best-places.js';
import type { ChevronPreview, CrossSeam, SeamPreview } from '../seam/chevron-preview.js';
import { clearSeam } from '../seam/clear-seam.js';
import { colourShares } from '../seam/colour-shares.js';
import { type CrossStripes, centredCross, crossLay, crossStripes } from '../seam/cross-model.js';
import { type EdgeSequence, edgeSequence } from '../seam/edge-sequence.js';
import { COMMON_HANDLING_MM } from '../seam/expect/handling.js';
import { pairExpectation, seamExpectation } from '../seam/expect/seam-expectation.js';
import { clothUnevenness, type Unevenness } from '../seam/expect/unevenness.js';
import type { Lay, PointOfV } from '../seam/lay.js';
import { clothLattice } from '../seam/motif-mirrors.js';
import { cutEdgeMatch, drift } from '../seam/seam-lengths.js';
import { type SeamMatch, seamMatch } from '../seam/seam-match.js';
import { checkSeamLengths } from '../seam/seam-request.js';
import { checkChevronRequest } from './check-chevron-request.js';

/** What seams to look at. Lengths in mm, angles in degrees between stripe and seam. */
export interface ChevronRequest {
  /** Pairs [left, right] between stripe and seam, degrees above 0 up to 90; each pair is a row of the preview. */
  readonly angles: readonly (readonly [number, number])[];
  /**
   * Bands that meet the seam at the reference point, one picture each: ids, or names of colours that only one
   * band has; null: every band of the repeat.
   */
  readonly centres: readonly string[] | null;
  /** Length of the stitching line, mm, 10 to 10 000. */
  readonly seamMm: number;
  /** Reference point, mm down from the seam's top; null: the middle. */
  readonly atMm: number | null;
  /** Slip of the right half's cloth, mm across its stripes; positive moves its bands down the seam. */
  readonly shiftMm: number;
  /** Seam allowance of either half, mm, 0 to 100. */
  readonly allowanceMm: number;
  /** Which way the point of the V looks. */
  readonly point: PointOfV;
  /** How the right half lies on the cloth beside the left; null: the best allowed one. */
  readonly lay: Lay | null;
  /** Draw a lay that the cloth's symmetry forbids. */
  readonly anyway: boolean;
  /** Keep the seam so far from motifs on the centre band, where it can be; null: not looked at. */
  readonly clearMm: number | null;
  /** How far laying, cutting and sewing slip one half along the seam against the other, nine times in ten; 0: not at all. */
  readonly handlingMm: number;
  /** Pictures of the photographed cloth mark no difference shorter than this along the seam. */
  readonly visibleMm: number;
  /**
   * Slip the right half of sides of unequal angle so that they agree at this place, down from the seam's top; null: at the
   * reference point, slipped by shiftMm.
   */
  readonly agreeAtMm: number | null;
}

/**
 * 0.5 mm: one minute of arc, what a normal eye resolves (EN 12665: visual acuity 1), at 1.7 m, as near as clothes are looked at
 * on a person; about the distance from one thread to the next, so no edge of a band is truer. A third of what the trade
 * takes as matched.
 */
export const VISIBLE_MM = 0.5;

export const DEFAULT_CHEVRON: ChevronRequest = {
  angles: [
    [30, 30],
    [45, 45],
    [60, 60],
  ],
  centres: null,
  seamMm: 400,
  atMm: null,
  shiftMm: 0,
  allowanceMm: 15,
  point: 'down',
  lay: null,
  anyway: false,
  clearMm: null,
  handlingMm: COMMON_HANDLING_MM,
  visibleMm: VISIBLE_MM,
  agreeAtMm: null,
};

/** Width of a half as its shares are counted, as a part of the seam: what the pictures show. */
const REACH = 0.36;

/**
 * Looks at the seams asked for. Refuses a model without a repeat; throws UsageError for lengths that make no
 * sense and for a lay that the cloth forbids, with the reason.
 *
 * @example
 * import { DEFAULT_CHEVRON, previewSeams, typedCloth } from 'stripewright';
 *
 * const cloth = typedCloth('indigo 14, ivory 9, ochre 4');
 * const preview = previewSeams(cloth, { ...DEFAULT_CHEVRON, angles: [[45, 45]], centres: ['ochre'] });
 * if (preview.ok) {
 *   const [[seam]] = preview.value.rows;
 *   console.log(preview.value.lay.lay, seam.match.repeatAlongMm[0].toFixed(2)); // head-to-tail 38.18
 * }
 */
export function previewSeams(model: BandModel, request: ChevronRequest): Outcome<ChevronPreview> {
  const matched = matchSeams(model, request);
  if (!matched.ok) return matched;
  const { pattern, verdict, lay, axisUMm, lattice, cross } = matched.value;
  const { clearMm, handlingMm } = request;
  const forced = lay.allowed === 'no';
  const sequence = edgeSequence(model, pattern);
  const uneven = clothUnevenness(model, pattern, sequence);
  const rows = matched.value.rows.map((seams) =>
    seams.map(({ match }) => ({
      ...previewOne(match, { sequence, uneven, forced }, request),
      cross: cross === null ? null : crossSeam(cross, match, handlingMm, forced),
      clear:
        clearMm === null || lattice === null
          ? null
          : clearSeam(match, lattice, verdict.motifs ?? [], clearMm),
    })),
  );
  return succeed({
    pattern,
    verdict,
    lay,
    forced,
    axisUMm,
    sequence,
    lattice,
    rows,
    allowanceMm: request.allowanceMm,
    shiftMm: request.shiftMm,
    handlingMm,
    visibleMm: request.visibleMm,
    agreeAtMm: request.agreeAtMm,
  });
}

/** How the halves meet at each seam, on the mean cloth, as far as a preview has it before anything is expected of the cloth in hand. */
export interface MatchedSeams
  extends Pick<ChevronPreview, 'pattern' | 'verdict' | 'lay' | 'axisUMm' | 'lattice'> {
  readonly cross: CrossStripes | null;
  readonly rows: readonly (readonly Pick<SeamPreview, 'match'>[])[];
}

/** The first part of previewSeams, with the same checks and refusals. */
export function matchSeams(model: BandModel, request: ChevronRequest): Outcome<MatchedSeams> {
  checkBandModel(model);
  checkChevronRequest(request);
  const outcome = clothPattern(model);
  if (!outcome.ok) return outcome;
  const pattern = outcome.value;
  const { seamMm, agreeAtMm } = request;
  const atMm = request.atMm ?? seamMm / 2;
  checkSeamLengths(seamMm, atMm, request.allowanceMm);
  const verdict = allowedLays(model, pattern);
  const lattice = clothLattice(model);
  const cross = crossStripes(model);
  checkFurtherLengths(request, lattice !== null && lattice.dots.length > 0);
  const lay = chosenLay(verdict, request);
  const axisUMm = verdict.mirror.axesUMm[0] ?? null;
  const mate = cross === null ? null : centredCross(cross);
  const named = request.centres?.map((name) => bandNamed(pattern, name)) ?? pattern.bands.map((_, k) => k);
  const centres = [...new Set(named)];
  const rows = distinctAngles(request.angles).map(([leftDeg, rightDeg]) => {
    const shiftMm =
      agreeAtMm === null ? request.shiftMm : shiftToAgreeAt(agreeAtMm, { leftDeg, rightDeg, atMm });
    return centres.map((centre) => {
      const seam = { leftDeg, rightDeg, centre, atMm, seamMm, shiftMm, point: request.point, lay: lay.lay };
      return { match: seamMatch(pattern, seam, axisUMm, mate) };
    });
  });
  return succeed({ pattern, verdict, lay, axisUMm, lattice, cross, rows });
}

/** Each pair of angles once, in the order given. */
const distinctAngles = (angles: ChevronRequest['angles']): ChevronRequest['angles'] =>
  angles.filter(
    ([left, right], i) => angles.findIndex(([l, r]) => Object.is(l, left) && Object.is(r, right)) === i,
  );

/** Slips of more than this are mistakes of typing. */
const MOST_HANDLING_MM = 20;

function checkFurtherLengths(request: ChevronRequest, hasMotifs: boolean): void {
  const { clearMm, handlingMm, visibleMm, agreeAtMm, shiftMm, seamMm } = request;
  const mostMm = (value: number, most: number, parameter: string): void => {
    if (!(value >= 0 && value <= most))
      throw new UsageError(`expected 0 to ${most} mm, received ${value} mm`, parameter);
  };
  if (clearMm !== null) {
    mostMm(clearMm, 100, 'clearMm');
    if (!hasMotifs)
      throw new UsageError('the model lists no motifs to keep clear of; leave it out', 'clearMm');
  }
  mostMm(handlingMm, MOST_HANDLING_MM, 'handlingMm');
  mostMm(visibleMm, MOST_HANDLING_MM, 'visibleMm');
  if (agreeAtMm === null) return;
  if (!(agreeAtMm >= 0 && agreeAtMm <= seamMm)) {
    throw new UsageError(
      `expected a place on the seam, 0 to ${seamMm} mm from its top, received ${agreeAtMm} mm`,
      'agreeAtMm',
    );
  }
  if (shiftMm !== 0) {
    throw new UsageError(
      'the place tells how far the right half is slipped, so no slip can be given besides; leave one of the two out',
      'agreeAtMm',
    );
  }
  if (request.angles.every(([left, right]) => left === right)) {
    throw new UsageError(
      'sides of the same angle agree all along; it is for unequal angles, such as 45/38; leave it out',
      'agreeAtMm',
    );
  }
}

function bandNamed(pattern: ClothPattern, name: string): number {
  const wanted = name.trim().toLowerCase();
  const byId = pattern.bands.findIndex((band) => band.id.toLowerCase() === wanted);
  if (byId >= 0) return byId;
  const byColour = pattern.bands.flatMap((band, k) => (band.name.toLowerCase() === wanted ? [k] : []));
  if (byColour.length === 1) return byColour[0];
  // Where a colour fits several bands, the others are no answer.
  const asked = byColour.length === 0 ? pattern.bands : byColour.map((k) => pattern.bands[k]);
  const list = asked.map((band) => `${band.id} (${band.name})`).join(', ');
  throw new UsageError(
    byColour.length === 0
      ? `there is no band "${name}"; the bands are ${list}`
      : `${byColour.length} bands are ${name}; say which: ${asked.map(({ id }) => id).join(', ')}`,
    'centres',
  );
}

function chosenLay(verdict: SymmetryVerdict, request: ChevronRequest): LayVerdict {
  const wanted = request.lay ?? verdict.preferred;
  const lay = verdict.lays.find((one) => one.lay === wanted) as LayVerdict;
  if (lay.allowed === 'no' && !request.anyway) {
    const others = verdict.lays.filter((one) => one.allowed !== 'no').map((one) => one.lay);
    throw new UsageError(
      `${wanted} is not allowed here. ${lay.reason} Use ${others.join(' or ')}, or have it drawn anyway`,
      'lay',
      ['anyway'],
    );
  }
  return lay;
}

interface KnownCloth {
  readonly sequence: EdgeSequence | null;
  readonly uneven: Unevenness | null;
  /** The lay is against the rule. */
  readonly forced: boolean;
}

function previewOne(
  match: SeamMatch,
  known: KnownCloth,
  request: ChevronRequest,
): Omit<SeamPreview, 'clear' | 'cross'> {
  const { pattern } = match;
  const { leftDeg, rightDeg, lay, seamMm } = match.request;
  const { uneven } = known;
  const expectation = uneven === null ? null : seamExpectation(match, uneven, request.handlingMm);
  const best = bestOf(match, known);
  const pair = typeof best === 'string' ? null : best;
  return {
    match,
    expected: expectation?.edges ?? match.crossings.map(() => null),
    worst: known.forced ? null : (expectation?.worst ?? null),
    basis: uneven?.basis ?? null,
    best: pair,
    bestExpected:
      pair === null || uneven === null ? null : pairExpectation(pair, match, uneven, request.handlingMm),
    noBest: typeof best === 'string' ? best : null,
    sameBands: lay !== 'same-way',
    drift: drift(pattern.repeatMm, leftDeg, rightDeg),
    agree: agreeingPlaces(pattern, match.request, match.sides),
    shares: {
      left: colourShares(pattern, match.left, 'left', REACH * seamMm, seamMm),
      right: colourShares(pattern, match.right, 'right', REACH * seamMm, seamMm),
    },
    cutEdge: cutEdgeMatch(request.allowanceMm, leftDeg, rightDeg),
  };
}

function bestOf({ request, rightCentre }: SeamMatch, { sequence, forced }: KnownCloth): PlacePair | NoBest {
  if (forced) return 'forbidden';
  if (request.leftDeg !== request.rightDeg) return 'unequal-angles';
  if (sequence === null) return 'not-photographed';
  return bestPlaces(sequence, request, [request.centre, rightCentre]);
}

/** The same seam as the cross stripes of a check see it, matched at their own mirror line. */
function crossSeam(
  cross: CrossStripes,
  { request }: SeamMatch,
  handlingMm: number,
  forced: boolean,
): CrossSeam | null {
  const [leftDeg, rightDeg] = [90 - request.leftDeg, 90 - request.rightDeg];
  // Cross stripes along the seam do not cross it.
  if (Math.min(leftDeg, rightDeg) < 0.5) return null;
  const { model, pattern, mirror } = cross;
  const axis = mirror.axesUMm[0] ?? null;
  const off = (k: number): number =>
    axis === null ? -pattern.bands[k].widthMm : Math.abs(bandMiddleU(pattern, k) - axis);
  const centre = pattern.bands.reduce((best, _, k) => (off(k) < off(best) ? k : best), 0);
  const match = seamMatch(
    pattern,
    { ...request, leftDeg, rightDeg, centre, shiftMm: 0, lay: crossLay(request.lay) },
    axis,
  );
  const uneven = clothUnevenness(model, pattern, edgeSequence(model, pattern));
  const worst = forced || uneven === null ? null : seamExpectation(match, uneven, handlingMm).worst;
  return { match, worst, basis: uneven?.basis ?? null };
}
