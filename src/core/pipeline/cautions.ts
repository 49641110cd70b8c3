import type { StripeHints } from '../base/request.js';
import type { Setting } from '../base/setting.js';
import type { Warning } from '../model/band-model.js';
import type { Photo } from '../raster/photo.js';
import { tiltDegOf } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { EdgePoints } from '../rectify/trace-edges.js';
import type { Reference } from '../reference/reference.js';
import { sheetSpecs } from '../reference/sheet-sizes.js';
import type { RoughReading } from '../stripes/stripe-reading.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';

export interface Evidence {
  readonly photo: Photo;
  readonly reference: Reference;
  readonly plane: PlaneSolution;
  readonly summary: StripeSummary;
  readonly edges: EdgePoints;
  readonly reading: RoughReading;
  readonly hints: StripeHints;
  /** See `StripeView`. */
  readonly rivalAngle: number | null;
}

/** Relative standard deviation of the repeat, for want of a focal length, from which on one is told. */
const FOCAL_MATTERS = 0.001;

/** With fewer pixels for a mm a ruler's marks run into one another, and their places and lengths are a matter of the camera's own sharpening. */
const COARSE_PX_PER_MM = 3;

/** Relative standard deviation of the scale from which on it is told. */
const SCALE_MATTERS = 0.01;

/** Less of the cloth than this left out changes no share that is told. */
const LEFT_OUT_PERCENT = 1;

/** Seen this often a band's instances tell whether two of about one width are one. */
const TELLING_REPEATS = 3;
/** Something over one of two instances makes a band seem wider by no more than this (logarithm). */
const ABOUT_ONE_WIDTH = 0.26;

/** So many times over a repeat may be told too long. */
const PARTS = [2, 3, 4];

/** In how many parts of the same colours, and bands of about the same widths, a repeat seen a few times falls; null for one alone. */
function partsAlike({ repeat, bands }: StripeSummary): number | null {
  if (repeat.across_mm === null || repeat.repeats_seen >= TELLING_REPEATS) return null;
  const alike = (part: number): boolean =>
    bands.every(({ colour, width_mm }, b) => {
      const other = bands[(b + part) % bands.length];
      return colour === other.colour && Math.abs(Math.log(width_mm / other.width_mm)) < ABOUT_ONE_WIDTH;
    });
  return (
    PARTS.find((n) => bands.length % n === 0 && bands.length / n >= 2 && alike(bands.length / n)) ?? null
  );
}

/** What a person should know before trusting the numbers: one warning each, plain words, a stable code. */
export function cautionsFor(evidence: Evidence): Warning[] {
  const { photo, reference, plane, summary, edges, hints, rivalAngle } = evidence;
  const warnings: Warning[] = [];
  const warn = (code: string, message: string, settings: readonly Setting[] = []): number =>
    warnings.push({ code, message, ...(settings.length === 0 ? {} : { settings }) });
  const { repeat } = summary;
  if (repeat.across_mm === null) {
    warn(
      'no-repeat',
      'No repeat was found, so the bands are listed just as they lie. Photograph at least two repeats; if they are in the picture, say where, or how many bands make one.',
      ['region', 'bands'],
    );
  } else if (repeat.repeats_seen < 2) {
    warn(
      'few-repeats',
      `Only ${repeat.repeats_seen.toFixed(1)} repeats are in view, so this one may be part of a longer one. Photograph at least two${hints.bands === null ? ', or say how many bands one has' : ''}.`,
      hints.bands === null ? ['bands'] : [],
    );
  }
  const parts = hints.bands === null ? partsAlike(summary) : null;
  if (parts !== null) {
    warn(
      'parts-alike',
      `The repeat falls into ${parts} parts that differ only in the widths of their bands, and only ${repeat.repeats_seen.toFixed(1)} repeats are in view: the true one may be 1/${parts} as long. Count the bands of one repeat on the cloth, and give their number.`,
      ['bands'],
    );
  }
  if (rivalAngle !== null) {
    const degrees = ((Math.round((rivalAngle * 180) / Math.PI) % 180) + 180) % 180;
    warn(
      'direction-unsure',
      `Lines at ${degrees} degrees run on as far as those that were read as stripes. If they are the stripes, give ${degrees} as their direction.`,
      ['direction'],
    );
  }
  if (hints.bands !== null && hints.bands !== summary.bands.length) {
    warn(
      'bands-not-found',
      `No repeat of ${hints.bands} bands fits what is in view; ${repeat.across_mm === null ? 'none was found' : `the one found has ${summary.bands.length}`}. Count again, or give a part of the photo that shows them clearly.`,
      ['bands', 'region'],
    );
  }
  if (summary.shadedBands.length > 0) {
    const { shadedBands } = summary;
    const [which, each] =
      shadedBands.length === 1
        ? [`Band ${shadedBands[0]} is`, 'It']
        : [`Bands ${shadedBands.join(', ')} are`, 'Each'];
    warn(
      'shaded',
      `${which} shaded from one side to the other. ${each} is listed as one band in its average colour; at a seam its light side may meet its dark side.`,
    );
  }
  if (summary.leftOutPercent >= LEFT_OUT_PERCENT) {
    warn(
      'left-out',
      `Something covers about ${Math.round(summary.leftOutPercent)} % of the cloth, or the cloth ends there. It was taken for a hand, a tool or a table, and left out of the colours and of how much each covers. If it is printed on the cloth, photograph more of the print.`,
    );
  }
  const tilt = tiltDegOf(plane.camera);
  if (tilt > 10) {
    warn(
      'tilt',
      `The camera was tilted by ${tilt.toFixed(0)} degrees. That is corrected, but the figures are best when it is held straight above.`,
    );
  }
  if (plane.tiltSdDeg > 1) {
    warn(
      'tilt-unsure',
      `How far the camera was tilted is known only to ${plane.tiltSdDeg.toFixed(1)} degrees: widths far from the ruler may be off.`,
    );
  }
  if (photo.focal35Mm === null && reference.source !== 'density' && plane.focalSd > FOCAL_MATTERS) {
    warn(
      'focal-unknown',
      'The photo does not say how strongly its lens enlarges (its focal length), so its tilt was corrected as for a common phone.',
    );
  }
  if (reference.insteadOfRuler) {
    warn(
      'sheet-found',
      `No ruler was found, but ${sheetSpecs[reference.insteadOfRuler].name} was, by its shape, and the scale is taken from it. If it is something else, every length here is wrong: give the scale in another way.`,
      ['sheet', 'points'],
    );
  }
  const span = reference.ends
    ? Math.hypot(reference.ends[1][0] - reference.ends[0][0], reference.ends[1][1] - reference.ends[0][1])
    : null;
  if (span !== null && span < 0.15 * Math.hypot(photo.picture.width, photo.picture.height)) {
    warn(
      'short-reference',
      'What the scale was taken from is short beside the photo, so that a small error in it is a large one across the cloth. Use a longer ruler.',
    );
  }
  if (reference.relativeSd > SCALE_MATTERS) {
    const isSheet = reference.source === 'card' || reference.source === 'sheet';
    warn(
      'scale-unsure',
      `The scale is known only to ${(100 * reference.relativeSd).toFixed(1)} %: ${
        isSheet
          ? 'another edge beside one of its sides may be the true one. Lay it on cloth of another colour, or give its corners.'
          : 'use a longer ruler, and lay it flat.'
      }`,
      isSheet ? ['corners'] : [],
    );
  }
  if (reference.pxPerMm < COARSE_PX_PER_MM) {
    warn(
      'coarse',
      `A millimetre of the cloth takes only ${reference.pxPerMm.toFixed(1)} pixels: lengths are less sure than they look. Go nearer, and send the photo itself, not a preview or a copy from a chat.`,
    );
  }
  const narrowest = Math.min(...summary.bands.map((b) => b.width_mm)) * reference.pxPerMm;
  if (narrowest < 3 * edges.blurPx) {
    warn(
      'near-resolution',
      'The narrowest band is hardly wider than its edges are blurred, so its width is a rough one. Go nearer to measure it.',
    );
  }
  if (reference.source === 'points') {
    warn('points', 'The scale rests on two points given by hand.');
  }
  return warnings;
}
