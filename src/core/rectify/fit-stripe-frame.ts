import { leastSquares } from '../math/levenberg-marquardt.js';
import { halfTurn } from '../math/wrap.js';
import { type BlockDirection, blockDirections } from './block-directions.js';
import { directionVotes, type GradientField } from './gradient-field.js';
import { type StripeFrame, turnedRound } from './stripe-frame.js';

export interface StripeDirection {
  readonly frame: StripeFrame;
  /** A second direction about square to the first (a check), radians, or null. */
  readonly secondAngle: number | null;
  /** Votes of the strongest direction over those of a usual one: how clearly it stands out. */
  readonly contrast: number;
}

/** Directions further from the strongest one than this are no part of its fan, radians. */
const FAN = 0.45;
const NEAR = 0.2;
/** A direction given by a person holds within this, radians, and stripes far from it are other stripes. */
const GIVEN_WITHIN = 0.14;
const GIVEN_FAN = 0.25;
/** A second direction has at least this share of the first one's votes: a few thin lines have no more. */
const SECOND_SHARE = 0.05;
/** Where the usual direction has this share of the votes of the strongest, none stands out (spots). */
const NO_DIRECTION = 0.6;

/**
 * Fits the fan of stripes to the directions of a picture's edges: the strongest direction first, then vanishing point, bow and lens
 * curvature by robust least squares on the directions of blocks. Coordinates: px of the picture of the field.
 * Null when no direction stands out.
 */
export function fitStripeFrame(field: GradientField): StripeDirection | null {
  const { peaks, usual } = directionPeaks(field);
  if (peaks.length === 0) return null;
  const frame = fitStripeFrameNear(field, peaks[0].angle);
  return frame && { frame, secondAngle: squareTo(peaks[0], peaks), contrast: peaks[0].votes / usual };
}

/** The same about the direction that a person gives; null when too few places show it, or what they show lies elsewhere. */
export function fitGivenStripes(field: GradientField, angle: number): StripeDirection | null {
  const frame = fitStripeFrameNear(field, angle, GIVEN_FAN);
  if (frame === null || Math.abs(halfTurn(frame.angle - angle)) > GIVEN_WITHIN) return null;
  const { peaks, usual } = directionPeaks(field);
  const own = peaks.find((p) => Math.abs(halfTurn(p.angle - frame.angle)) < GIVEN_WITHIN);
  // That a person sees them is contrast enough.
  if (own === undefined) return { frame, secondAngle: null, contrast: 1 };
  return { frame, secondAngle: squareTo(own, peaks), contrast: own.votes / usual };
}

interface DirectionPeak {
  readonly angle: number;
  readonly votes: number;
}

const squareTo = (first: DirectionPeak, peaks: readonly DirectionPeak[]): number | null =>
  peaks.find(
    (p) =>
      Math.abs(Math.abs(halfTurn(p.angle - first.angle)) - Math.PI / 2) < 0.35 &&
      p.votes > SECOND_SHARE * first.votes,
  )?.angle ?? null;

/** The same fit about a given direction (the second one of a check); null when too few places show it. */
export function fitStripeFrameNear(field: GradientField, angle: number, fan = FAN): StripeFrame | null {
  const { width, height } = field;
  const wide = blockDirections(field, () => angle, fan);
  if (wide.length < 6) return null;
  const rough = fitAround(wide, angle, width, height);
  const near = blockDirections(field, (x, y) => angleAt(rough, x, y), NEAR);
  return near.length < 6 ? rough : fitAround(near, rough.angle, width, height);
}

/** A direction that stands out of its surroundings by this factor may be that of faint stripes under threads or beside what lies on them. */
const STANDS_OUT = 1.15;
/** Bins on either side over which votes are gathered: stripes seen aslant run in a fan of some degrees. */
const FAN_BINS = 9;

/** Directions that more edges run in than in the usual one, though none need be clear, with how many times the usual votes they have. */
export function possibleDirections(field: GradientField): { angle: number; contrast: number }[] {
  const { peaks, usual } = votePeaks(field, FAN_BINS, () => 1, FAN_BINS);
  return peaks
    .filter(({ votes }) => votes > STANDS_OUT * usual)
    .map(({ angle, votes }) => ({ angle, contrast: votes / Math.max(1e-9, usual) }));
}

function directionPeaks(field: GradientField): { peaks: DirectionPeak[]; usual: number } {
  const { peaks, usual } = votePeaks(field, 4, (away) => 5 - away, 10);
  return { peaks: peaks.filter(({ votes }) => usual < NO_DIRECTION * votes), usual };
}

/**
 * Directions with more votes than any within `apart` bins of a degree, the strongest first, and the votes of a usual one. Votes are
 * gathered over `reach` bins on either side, weighted by how many away.
 */
function votePeaks(
  field: GradientField,
  reach: number,
  weightOf: (away: number) => number,
  apart: number,
): { peaks: DirectionPeak[]; usual: number } {
  const bins = 180;
  const votes = directionVotes(field, bins);
  const smooth = Array.from(votes, (_, i) => {
    let sum = 0;
    for (let d = -reach; d <= reach; d++) sum += votes[(i + d + bins) % bins] * weightOf(Math.abs(d));
    return sum;
  });
  const usual = [...smooth].sort((p, q) => p - q)[bins >> 1];
  const peaks: DirectionPeak[] = [];
  for (let i = 0; i < bins; i++) {
    let top = smooth[i] > 0;
    for (let d = 1; d <= apart && top; d++) {
      if (smooth[(i + d) % bins] > smooth[i] || smooth[(i - d + bins) % bins] >= smooth[i]) top = false;
    }
    if (top) peaks.push({ angle: ((i + 0.5) / bins) * Math.PI, votes: smooth[i] });
  }
  return { peaks: peaks.sort((a, b) => b.votes - a.votes), usual };
}

function fitAround(
  blocks: readonly BlockDirection[],
  startAngle: number,
  width: number,
  height: number,
): StripeFrame {
  const centreX = width / 2;
  const centreY = height / 2;
  const scale = Math.hypot(width, height) / 2;
  const frameOf = ([angle, converge, bow, lens]: readonly number[]): StripeFrame => ({
    centreX,
    centreY,
    angle,
    converge: converge / scale,
    bow: bow / scale,
    lens: lens / scale ** 2,
  });
  let parameters = [startAngle, 0, 0, 0];
  // The fan may be wide: begin with a wide gate and few terms, then narrow it and let the small terms in.
  const passes: [gate: number, terms: number][] = [
    [0.45, 2],
    [0.25, 2],
    [0.12, 4],
    [0.06, 4],
  ];
  for (const [gate, terms] of passes) {
    const frame = frameOf(parameters);
    const near = blocks.filter((b) => Math.abs(halfTurn(b.angle - angleAt(frame, b.x, b.y))) < gate);
    if (near.length < 4) continue;
    const weights = near.map((b) => Math.sqrt(b.weight));
    const total = Math.hypot(...weights);
    const fit = leastSquares(
      parameters.slice(0, terms),
      near.length + 3,
      (p, out) => {
        const trial = frameOf([...p, ...parameters.slice(terms)]);
        for (let i = 0; i < near.length; i++) {
          const r = halfTurn(near[i].angle - angleAt(trial, near[i].x, near[i].y)) / 0.01;
          // Geman-McClure pull: a block off the fan (motif, wrinkle) counts little.
          out[i] = (weights[i] / total) * (r / Math.sqrt(1 + (r * r * 0.0001) / (gate * gate)));
        }
        // Weak priors keep what the photo does not show at rest.
        out[near.length] = 0.02 * p[1];
        out[near.length + 1] = terms > 2 ? 0.1 * p[2] : 0;
        out[near.length + 2] = terms > 2 ? 0.1 * p[3] : 0;
      },
      { steps: [1e-5, 1e-5, 1e-5, 1e-5].slice(0, terms) },
    );
    parameters = [...fit.parameters, ...parameters.slice(terms)];
  }
  const frame = frameOf(parameters);
  return normalised(frame);
}

/** Angle into [0, pi): v points up, or to the right if the stripes are level. Turning v round turns u round too. */
function normalised(frame: StripeFrame): StripeFrame {
  const turns = Math.floor(frame.angle / Math.PI);
  if (turns % 2 === 0) return { ...frame, angle: frame.angle - turns * Math.PI };
  return turnedRound({ ...frame, angle: frame.angle - (turns + 1) * Math.PI });
}

/** Direction of the stripe through a picture point, radians counter-clockwise as seen. */
export function angleAt(frame: StripeFrame, x: number, y: number): number {
  const cos = Math.cos(frame.angle);
  const sin = Math.sin(frame.angle);
  const dx = x - frame.centreX;
  const dy = y - frame.centreY;
  const across = dx * sin + dy * cos;
  const along = dx * cos - dy * sin;
  const w = 1 - frame.converge * along;
  const v = along / w;
  const u = across / w;
  // d(picture)/dv at constant u, in the (across, along) axes, up to a common factor.
  const slope = v * (frame.bow + frame.lens * u) - frame.converge * across;
  const forward = w;
  return frame.angle - Math.atan2(slope, forward);
}
