import { type Outcome, succeed, UsageError } from '../base/outcome.js';
import type { BandModel } from '../model/band-model.js';
import { bandMiddleU, type ClothPattern, clothPattern } from '../model/cloth-pattern.js';
import { allowedLays, type LayVerdict, type SymmetryVerdict } from '../seam/allowed-lays.js';
import { bestPlaces } from '../seam/best-places.js';
import type { ChevronPreview, CrossSeam, SeamPreview } from '../seam/chevron-preview.js';
import { clearSeam } from '../seam/clear-seam.js';
import { colourShares } from '../seam/colour-shares.js';
import { type CrossStripes, centredCross, crossLay, crossStripes } from '../seam/cross-model.js';
import { type EdgeSequence, edgeSequence } from '../seam/edge-sequence.js';
import {
  type MismatchFigures,
  mismatchFigures,
  type Unevenness,
  unevenness,
} from '../seam/expected-mismatch.js';
import type { Lay, PointOfV } from '../seam/lay.js';
import { clothLattice } from '../seam/motif-mirrors.js';
import { cutEdgeMatch, drift, sinDeg } from '../seam/seam-lengths.js';
import { type SeamMatch, seamMatch } from '../seam/seam-match.js';
import { checkSeamLengths } from '../seam/seam-request.js';

/** What seams to look at. Lengths in mm, angles in degrees between stripe and seam. */
export interface ChevronRequest {
  /** [left, right] pairs. */
  readonly angles: readonly (readonly [number, number])[];
  /**
   * Bands that meet the seam at the reference point, one picture each: ids, or names of colours that only one
   * band has; null: every band of the repeat.
   */
  readonly centres: readonly string[] | null;
  readonly seamMm: number;
  /** Reference point, down from the seam's top; null: the middle. */
  readonly atMm: number | null;
  readonly shiftMm: number;
  readonly allowanceMm: number;
  readonly point: PointOfV;
  /** Null: the best lawful one. */
  readonly lay: Lay | null;
  /** Draw a lay that the cloth's symmetry forbids. */
  readonly anyway: boolean;
  /** Keep the seam so far from motifs on the centre band, where it can be; null: not looked at. */
  readonly clearMm: number | null;
}

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
};

/** Width of a half as its shares are counted, as a part of the seam: what the pictures show. */
const REACH = 0.36;

/**
 * Looks at the seams asked for. Refuses a model without a repeat; throws UsageError for lengths that make no
 * sense and for a lay that the cloth forbids, with the reason.
 */
export function previewSeams(model: BandModel, request: ChevronRequest): Outcome<ChevronPreview> {
  const outcome = clothPattern(model);
  if (!outcome.ok) return outcome;
  const pattern = outcome.value;
  const atMm = request.atMm ?? request.seamMm / 2;
  checkSeamLengths(request.seamMm, atMm, request.allowanceMm);
  const verdict = allowedLays(model, pattern);
  const lattice = clothLattice(model);
  const cross = crossStripes(model);
  const { clearMm } = request;
  if (clearMm !== null && !(clearMm >= 0 && clearMm <= 100))
    throw new UsageError(`expected 0 to 100 mm, received ${clearMm} mm`, 'clearMm');
  if (clearMm !== null && (lattice === null || lattice.dots.length === 0))
    throw new UsageError('the model lists no motifs to keep clear of; leave it out', 'clearMm');
  const lay = chosenLay(verdict, request);
  const axisUMm = verdict.mirror.axesUMm[0] ?? null;
  const sequence = edgeSequence(model, pattern);
  const centres = request.centres?.map((name) => bandNamed(pattern, name)) ?? pattern.bands.map((_, k) => k);
  const figures = new Map<string, MismatchFigures>();
  const rows = request.angles.map(([leftDeg, rightDeg]) =>
    centres.map((centre) => {
      const match = seamMatch(
        pattern,
        {
          leftDeg,
          rightDeg,
          centre,
          atMm,
          seamMm: request.seamMm,
          shiftMm: request.shiftMm,
          point: request.point,
          lay: lay.lay,
        },
        axisUMm,
        cross === null ? null : centredCross(cross),
      );
      const one = {
        ...previewOne(model, match, sequence, request.allowanceMm, figures),
        cross: cross === null ? null : crossSeam(cross, match),
      };
      return clearMm === null || lattice === null
        ? one
        : { ...one, clear: clearSeam(match, lattice, verdict.motifs ?? [], clearMm) };
    }),
  );
  return succeed({
    pattern,
    verdict,
    lay,
    forced: lay.allowed === 'no',
    axisUMm,
    sequence,
    lattice,
    rows,
    allowanceMm: request.allowanceMm,
  });
}

function bandNamed(pattern: ClothPattern, name: string): number {
  const wanted = name.trim().toLowerCase();
  const byId = pattern.bands.findIndex((band) => band.id.toLowerCase() === wanted);
  if (byId >= 0) return byId;
  const byColour = pattern.bands.flatMap((band, k) => (band.name.toLowerCase() === wanted ? [k] : []));
  if (byColour.length === 1) return byColour[0];
  const list = pattern.bands.map((band) => `${band.id} (${band.name})`).join(', ');
  throw new UsageError(
    byColour.length === 0
      ? `there is no band "${name}"; the bands are ${list}`
      : `${byColour.length} bands are ${name}; say which: ${list}`,
    'centres',
  );
}

function chosenLay(verdict: SymmetryVerdict, request: ChevronRequest): LayVerdict {
  const wanted = request.lay ?? verdict.preferred;
  const lay = verdict.lays.find((one) => one.lay === wanted) as LayVerdict;
  if (lay.allowed === 'no' && !request.anyway) {
    const lawful = verdict.lays.filter((one) => one.allowed !== 'no').map((one) => one.lay);
    throw new UsageError(
      `${wanted} is not allowed here. ${lay.reason} Use ${lawful.join(' or ')}, or have it drawn anyway`,
      'lay',
      ['anyway'],
    );
  }
  return lay;
}

function previewOne(
  model: BandModel,
  match: SeamMatch,
  sequence: EdgeSequence | null,
  allowanceMm: number,
  cache: Map<string, MismatchFigures>,
): SeamPreview {
  const { pattern, request, sides, rightCentre } = match;
  const { leftDeg, rightDeg, centre, lay, seamMm } = request;
  const reversed = lay === 'same-way';
  const uneven = unevenness(model, pattern, sequence, sides, { left: centre, right: rightCentre, reversed });
  const expected = match.crossings.map((one) => {
    if (uneven === null || !one.meets) return null;
    return figuresAt(uneven, match, one.edge, cache);
  });
  return {
    match,
    expected,
    worst: worstOf(expected),
    basis: uneven?.basis ?? null,
    best: sequence === null ? null : bestPlaces(sequence, request, [centre, rightCentre]),
    sameBands: !reversed,
    drift: drift(pattern.repeatMm, leftDeg, rightDeg),
    shares: {
      left: colourShares(pattern, match.left, 'left', REACH * seamMm, seamMm),
      right: colourShares(pattern, match.right, 'right', REACH * seamMm, seamMm),
    },
    cutEdge: cutEdgeMatch(allowanceMm, leftDeg, rightDeg),
    clear: null,
    cross: null,
  };
}

/** The same seam as the cross stripes of a check see it, matched at their own mirror line. */
function crossSeam(cross: CrossStripes, { request }: SeamMatch): CrossSeam | null {
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
  const { worst, basis } = previewOne(model, match, edgeSequence(model, pattern), 0, new Map());
  return { match, worst, basis };
}

/** Equal angles only stretch the same figures, so those are worked out once, across the stripes. */
function figuresAt(
  uneven: Unevenness,
  match: SeamMatch,
  edge: number,
  cache: Map<string, MismatchFigures>,
): MismatchFigures {
  const { leftDeg, rightDeg, centre, shiftMm } = match.request;
  const [sinLeft, sinRight] = leftDeg === rightDeg ? [1, 1] : [sinDeg(leftDeg), sinDeg(rightDeg)];
  const key = `${centre} ${edge} ${sinLeft} ${sinRight}`;
  let across = cache.get(key);
  if (across === undefined) {
    const [left, right] = uneven.spreadMm(edge);
    across = mismatchFigures(
      uneven.differences(edge, (l, r) => (r + shiftMm) / sinRight - l / sinLeft),
      Math.hypot(left / sinLeft, right / sinRight),
    );
    cache.set(key, across);
  }
  if (leftDeg !== rightDeg) return across;
  const stretch = 1 / sinDeg(leftDeg);
  return { median: across.median * stretch, p90: across.p90 * stretch, greatest: across.greatest * stretch };
}

function worstOf(expected: readonly (MismatchFigures | null)[]): MismatchFigures | null {
  let worst: MismatchFigures | null = null;
  for (const one of expected) if (one !== null && (worst === null || one.p90 > worst.p90)) worst = one;
  return worst;
}
