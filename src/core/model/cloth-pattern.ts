import { type Outcome, refuse, succeed } from '../base/outcome.js';
import { type PeriodicSteps, periodicSteps } from '../math/periodic-steps.js';
import type { BandModel } from './band-model.js';

/** One band of the repeat, ready for seams. */
export interface PatternBand {
  /** As in the model: "b1", "b2" .. */
  readonly id: string;
  /** Id of its colour in the model. */
  readonly colourId: string;
  /** Plain name of its colour. */
  readonly name: string;
  /** "#rrggbb". */
  readonly srgb: string;
  /** From the start of the first band. */
  readonly startMm: number;
  /** Mean width across the stripes, mm. */
  readonly widthMm: number;
}

/** One repeat of the cloth in order of growing u, widths adding up to the repeat. */
export interface ClothPattern {
  /** Length of the repeat across the stripes, mm. */
  readonly repeatMm: number;
  /** Cloth u of the start of the first band. */
  readonly originUMm: number;
  /** In order of growing u. */
  readonly bands: readonly PatternBand[];
}

/** Widths may miss the repeat by this part of it: measured means of bands cut by the photo's frame do. */
const SUM_TOLERANCE = 0.02;

/** The repeat of a model, or why seams cannot be drawn from it. */
export function clothPattern(model: BandModel): Outcome<ClothPattern> {
  const repeatMm = model.repeat.across_mm;
  if (repeatMm === null) {
    return refuse(
      'unreadable',
      'The model has no repeat (repeat.across_mm is null)',
      'measure a photo with at least two repeats in view, or type the repeat in',
    );
  }
  if (model.bands.length < 2 || !(repeatMm > 0)) {
    return refuse(
      'unreadable',
      `The model has ${model.bands.length} band(s) in a repeat of ${repeatMm} mm`,
      'at least two bands and a repeat above 0 are needed',
    );
  }
  const sum = model.bands.reduce((total, band) => total + band.width_mm, 0);
  if (
    !model.bands.every((band) => band.width_mm > 0) ||
    Math.abs(sum - repeatMm) > SUM_TOLERANCE * repeatMm
  ) {
    return refuse(
      'unreadable',
      `The bands' widths add up to ${sum.toFixed(2)} mm but repeat.across_mm is ${repeatMm} mm`,
      'every width must be above 0 and together they must fill the repeat',
    );
  }
  let startMm = 0;
  const bands: PatternBand[] = [];
  for (const band of model.bands) {
    const colour = model.colours.find((one) => one.id === band.colour);
    if (colour === undefined) {
      return refuse(
        'unreadable',
        `Band ${band.id} has colour "${band.colour}", which is not among the model's colours`,
        `use one of ${model.colours.map((one) => one.id).join(', ') || '(none listed)'}`,
      );
    }
    const widthMm = (band.width_mm * repeatMm) / sum;
    bands.push({
      id: band.id,
      colourId: band.colour,
      name: colour.name,
      srgb: colour.srgb,
      startMm,
      widthMm,
    });
    startMm += widthMm;
  }
  return succeed({ repeatMm, originUMm: model.bands[0].start_mm, bands });
}

/** True modulus: 0 <= result < n. */
export const wrap = (k: number, n: number): number => ((k % n) + n) % n;

/** Cloth u of the middle of a band of the repeat. */
export const bandMiddleU = (pattern: ClothPattern, band: number): number =>
  pattern.originUMm + pattern.bands[band].startMm + pattern.bands[band].widthMm / 2;

/**
 * Across the stripes from the middle of band `centre` to edge m counted from it: edge 0 is its lower edge,
 * edge 1 its upper one, m any integer.
 */
export function edgeFromMiddle(pattern: ClothPattern, centre: number, m: number): number {
  const n = pattern.bands.length;
  const k = centre + m;
  const turns = Math.floor(k / n);
  const { startMm, widthMm } = pattern.bands[centre];
  return turns * pattern.repeatMm + pattern.bands[wrap(k, n)].startMm - (startMm + widthMm / 2);
}

/** The repeat as a step function of (u - originUMm), given each band's channel values. */
export const stepsOfPattern = (
  pattern: ClothPattern,
  valuesOfBand: (band: PatternBand) => readonly number[],
): PeriodicSteps =>
  periodicSteps(
    pattern.bands.map((b) => b.widthMm),
    pattern.bands.map(valuesOfBand),
  );
