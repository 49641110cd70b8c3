import type { StripeHints } from '../base/request.js';
import type { Setting } from '../base/setting.js';
import type { Warning } from '../model/band-model.js';
import type { Photo } from '../raster/photo.js';
import { tiltDegOf } from '../rectify/camera-plane.js';
import type { PlaneSolution } from '../rectify/solve-plane.js';
import type { EdgePoints } from '../rectify/trace-edges.js';
import type { Reference } from '../reference/reference.js';
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
      'No repeat is in view: bands are listed as seen. Take in at least two repeats, or, if they are there, say where or how many bands one has.',
      ['region', 'bands'],
    );
  } else if (repeat.repeats_seen < 2) {
    warn(
      'few-repeats',
      `Only ${repeat.repeats_seen.toFixed(1)} repeats are in view: the repeat may be a part of a longer one. Take in at least two${hints.bands === null ? ', or say how many bands it has' : ''}.`,
      hints.bands === null ? ['bands'] : [],
    );
  }
  const parts = hints.bands === null ? partsAlike(summary) : null;
  if (parts !== null) {
    warn(
      'parts-alike',
      `The repeat falls in ${parts} parts that differ only in width, and only ${repeat.repeats_seen.toFixed(1)} repeats are in view: it may be 1/${parts} as long. Count the bands of one repeat, and give their number.`,
      ['bands'],
    );
  }
  if (rivalAngle !== null) {
    const degrees = ((Math.round((rivalAngle * 180) / Math.PI) % 180) + 180) % 180;
    warn(
      'direction-unsure',
      `Rows at ${degrees} degrees run on as far as what was read as stripes: if those are the stripes, give ${degrees} as their direction.`,
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
    const [one] = summary.shadedBands;
    warn(
      'shaded',
      `${summary.shadedBands.length === 1 ? `Band ${one} is` : `Bands ${summary.shadedBands.join(', ')} are`} shaded from one side to the other: told as one band in its mean colour. At a seam its two ends may meet.`,
    );
  }
  if (summary.leftOutPercent >= LEFT_OUT_PERCENT) {
    warn(
      'left-out',
      `Something lies on the cloth over about ${Math.round(summary.leftOutPercent)} % of it, or its edge is in view: taken for a hand, a tool or a table, and left out of the colours and their shares. If it is printed there, take in more of the print.`,
    );
  }
  const tilt = tiltDegOf(plane.camera);
  if (tilt > 10) {
    warn(
      'tilt',
      `The camera was tilted by ${tilt.toFixed(0)} degrees: corrected, but take it from straight above for the best figures.`,
    );
  }
  if (plane.tiltSdDeg > 1) {
    warn(
      'tilt-unsure',
      `Tilt is known only to ${plane.tiltSdDeg.toFixed(1)} degrees: widths far from the ruler may be off.`,
    );
  }
  if (photo.focal35Mm === null && reference.source !== 'density' && plane.focalSd > FOCAL_MATTERS) {
    warn(
      'focal-unknown',
      'The photo does not tell its focal length: tilt was corrected with that of a common phone.',
    );
  }
  const span = reference.ends
    ? Math.hypot(reference.ends[1][0] - reference.ends[0][0], reference.ends[1][1] - reference.ends[0][1])
    : null;
  if (span !== null && span < 0.15 * Math.hypot(photo.picture.width, photo.picture.height)) {
    warn(
      'short-reference',
      'The reference covers little of the photo: its own error weighs more. Use a longer one.',
    );
  }
  if (reference.relativeSd > SCALE_MATTERS) {
    const isSheet = reference.source === 'card' || reference.source === 'sheet';
    warn(
      'scale-unsure',
      `The scale is known only to ${(100 * reference.relativeSd).toFixed(1)} %: ${
        isSheet
          ? 'an edge beside one side may be its own. Lay it on another colour, or give its corners.'
          : 'use a longer reference.'
      }`,
      isSheet ? ['corners'] : [],
    );
  }
  const narrowest = Math.min(...summary.bands.map((b) => b.width_mm)) * reference.pxPerMm;
  if (narrowest < 3 * edges.blurPx) {
    warn(
      'near-resolution',
      'The narrowest band is hardly wider than the blur of its edges: go nearer for its width.',
    );
  }
  if (reference.source === 'points') {
    warn('points', 'The scale rests on two points given by hand.');
  }
  return warnings;
}
