import { check, listOf, oneOf, orNull, record, text, textLike } from '../base/expectation.js';
import { UsageError } from '../base/outcome.js';
import type { ClothPlace, PlacePair } from '../seam/best-places.js';
import type { ChevronPreview, SeamPreview } from '../seam/chevron-preview.js';
import type { BandCrossing } from '../seam/clean-places.js';
import type { ColourShare } from '../seam/colour-shares.js';
import type { WorstFigures } from '../seam/expect/seam-expectation.js';
import type { MismatchFigures } from '../seam/expect/worst-edge.js';
import { checkPreview } from './check-preview.js';

/** The record other programs read: see chevron.schema.json. Lengths in mm, angles in degrees. */
export type ChevronRecord = ReturnType<typeof chevronRecord>;

/** Which model a result is of: its file may since have been replaced by another cloth's, its hash tells. */
export interface ModelSource {
  /** Name of the file, without its folder. */
  readonly file: string;
  /** Of the file's bytes, lower-case hex. */
  readonly sha256: string;
}

export interface RecordContext {
  /** The file of the model that all of it follows from. */
  readonly model: ModelSource;
  /** What the pictures are painted with; null when none were made. */
  readonly from: 'model' | 'cloth' | null;
  /** Name of each seam's picture without its ending, in the shape of preview.rows; null when none were made. */
  readonly seamNames: readonly (readonly string[])[] | null;
  /** All files written, this record among them. */
  readonly files: readonly string[];
}

/** See `ModelSource`. */
export const MODEL_SOURCE = record(
  { file: text, sha256: textLike(/^[0-9a-f]{64}$/, '64 hexadecimal digits') },
  "the model's file",
);

const CONTEXT = record({
  model: MODEL_SOURCE,
  from: orNull(oneOf(['model', 'cloth'])),
  seamNames: orNull(listOf(listOf(text))),
  files: listOf(text),
});

/** Everything that a preview says, rounded to a thousandth. */
export function chevronRecord(preview: ChevronPreview, context: RecordContext) {
  checkPreview(preview);
  check(context, 'context', CONTEXT);
  const names = context.seamNames;
  if (names !== null && !preview.rows.every((row, i) => names[i]?.length === row.length)) {
    throw new UsageError("expected a name for each of the preview's seams", 'context.seamNames');
  }
  const { pattern, verdict, lay } = preview;
  const { request } = preview.rows[0][0].match;
  return {
    format: 'stripewright.chevron',
    version: 1,
    units: 'mm',
    model: { file: context.model.file, sha256: context.model.sha256 },
    repeat_mm: round(pattern.repeatMm),
    bands: pattern.bands.map((band) => ({
      id: band.id,
      colour: band.colourId,
      name: band.name,
      srgb: band.srgb,
      width_mm: round(band.widthMm),
    })),
    symmetry: {
      sentence: verdict.sentence,
      check_by_eye: verdict.checkByEye,
      balanced: verdict.mirror.balanced,
      residual_mm: roundOrNull(verdict.mirror.residualMm),
      tolerance_mm: roundOrNull(verdict.mirror.toleranceMm),
      mirror_axes_mm: verdict.mirror.axesUMm.map(round),
      directional: verdict.directional,
      motif_mirrors:
        verdict.motifs?.map((m) => ({
          reverses: m.reverses,
          axis_mm: round(m.axisMm),
          slip_mm: round(m.slipMm),
        })) ?? null,
      lays: verdict.lays.map((one) => ({ lay: one.lay, allowed: one.allowed, reason: one.reason })),
    },
    lay: { chosen: lay.lay, allowed: lay.allowed, reason: lay.reason },
    seam: {
      length_mm: round(request.seamMm),
      at_mm: round(request.atMm),
      point: request.point,
      shift_mm: round(preview.shiftMm),
      allowance_mm: round(preview.allowanceMm),
      handling_mm: round(preview.handlingMm),
      visible_mm: round(preview.visibleMm),
      agree_at_mm: roundOrNull(preview.agreeAtMm),
    },
    from: context.from,
    seams: preview.rows.flatMap((row, i) =>
      row.map((one, k) => seamRecord(one, context.seamNames?.[i][k] ?? null)),
    ),
    files: [...context.files],
    warnings: verdict.doubts.map(({ code, message }) => ({ code, message })),
  };
}

function seamRecord(one: SeamPreview, picture: string | null) {
  const { match } = one;
  const { pattern, request } = match;
  const id = (band: number): string => pattern.bands[band].id;
  return {
    angle_left_deg: request.leftDeg,
    angle_right_deg: request.rightDeg,
    shift_mm: round(request.shiftMm),
    centre: id(request.centre),
    centre_right: id(match.rightCentre),
    picture: picture === null ? null : { png: `${picture}.png`, svg: `${picture}.svg` },
    enclosed_deg: round(match.enclosedDeg),
    repeat_along_mm: match.repeatAlongMm.map(round),
    bands_along_mm: pattern.bands.map((band) => ({
      band: band.id,
      left: round((band.widthMm * match.repeatAlongMm[0]) / pattern.repeatMm),
      right: round((band.widthMm * match.repeatAlongMm[1]) / pattern.repeatMm),
    })),
    crossings: match.crossings.map((c, i) => ({
      edge: c.edge,
      left_mm: round(c.leftMm),
      left_bands: c.leftBands.map(id),
      right_mm: round(c.rightMm),
      right_bands: c.rightBands.map(id),
      mismatch_mm: c.meets ? round(c.rightMm - c.leftMm) : null,
      expected: figures(one.expected[i]),
    })),
    unmatched_mm: match.unmatched.map((s) => [round(s.fromMm), round(s.toMm)]),
    unmatched_share: round(match.unmatched.reduce((sum, s) => sum + s.toMm - s.fromMm, 0) / request.seamMm),
    expected_basis: one.basis,
    expected_worst: figures(one.worst?.cloth ?? null),
    expected_worst_sewn: figures(one.worst?.sewn ?? null),
    same_bands: one.sameBands,
    no_best_places: one.noBest,
    best_places: one.best === null ? null : bestPlaces(one.best, one.bestExpected),
    clear:
      one.clear === null
        ? null
        : {
            margin_mm: round(one.clear.marginMm),
            paired: one.clear.paired,
            left: crossing(one.clear.left, one.clear.marginMm),
            right: crossing(one.clear.right, one.clear.marginMm),
          },
    cross:
      one.cross === null
        ? null
        : {
            repeat_along_mm: one.cross.match.repeatAlongMm.map(round),
            unmatched_mm: one.cross.match.unmatched.map((s) => [round(s.fromMm), round(s.toMm)]),
            expected_worst: figures(one.cross.worst?.cloth ?? null),
            expected_worst_sewn: figures(one.cross.worst?.sewn ?? null),
            expected_basis: one.cross.basis,
          },
    drift:
      one.drift === null
        ? null
        : {
            per_repeat_mm: round(one.drift.perRepeatMm),
            per_100mm_mm: round(one.drift.per100Mm),
            half_repeat_at_mm: round(one.drift.halfRepeatAtMm),
            agree: one.agree.map(({ atMm, band }) => ({ at_mm: round(atMm), band: id(band) })),
          },
    colour_shares: { left: shares(one.shares.left), right: shares(one.shares.right) },
    if_matched_at_cut_edge: {
      points_move_mm: round(one.cutEdge.pointsMoveMm),
      mirrored_mismatch_mm: round(one.cutEdge.mirroredMismatchMm),
      run_on_mismatch_mm: round(one.cutEdge.runOnMismatchMm),
    },
  };
}

function bestPlaces(best: PlacePair, expected: WorstFigures | null) {
  const place = (one: ClothPlace) => ({
    repeat: one.repeat,
    across_mm: round(one.uMm),
    seam_mm: one.seam.map((end) => end.map(round)),
    reach_along_mm: one.reachVMm.map(round),
  });
  return {
    left: place(best.left),
    right: place(best.right),
    worst_mm: round(best.worstMm),
    rms_mm: round(best.rmsMm),
    expected: figures(expected?.cloth ?? null),
    expected_sewn: figures(expected?.sewn ?? null),
    continued: best.continued,
    edges_seen: best.edgesSeen,
    edges_on_seam: best.crossings.length,
    edges: best.crossings
      .filter((c) => c.seen)
      .map((c) => ({
        edge: c.edge,
        left_mm: round(c.leftMm),
        right_mm: round(c.rightMm),
        mismatch_mm: round(c.rightMm - c.leftMm),
      })),
  };
}

const crossing = ({ alongMm, clearanceMm, motifEdgesCut }: BandCrossing, marginMm: number) => ({
  along_mm: round(alongMm),
  clearance_mm: round(clearanceMm),
  clean: clearanceMm >= marginMm - 1e-6,
  motif_edges_cut: motifEdgesCut,
});

const round = (value: number): number => Math.round(value * 1000) / 1000 + 0;
const roundOrNull = (value: number | null): number | null => (value === null ? null : round(value));

const figures = (f: MismatchFigures | null) =>
  f === null ? null : { median_mm: round(f.median), p90_mm: round(f.p90), greatest_mm: round(f.greatest) };

const shares = (list: readonly ColourShare[]) =>
  list.map(({ colourId, share }) => ({ colour: colourId, share: Math.round(share * 1e5) / 1e5 }));
