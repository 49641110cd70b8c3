import type { BandModel, Point } from '../../src/core/model/band-model.js';
import type { SceneTruth } from '../../test/support/photo-painter/scene-truth.js';
import { type Comparison, compareWithTruth, median } from './compare.js';
import { growthInPhoto, lensHeightMm, measuredClothFromPhoto, trueClothFromPhoto } from './facts.js';
import type { MeasureRun } from './run-measure.js';
import { EXIT_CODES } from './table.js';

/** Where a measurement first goes wrong, in the order of the stages. */
export type FirstFault =
  | 'reference'
  | 'direction'
  | 'bands'
  | 'plane'
  | 'repeat'
  | 'widths'
  | 'shares'
  | 'refusal';

/**
 * One scene's outcome. Errors of accuracy are against the reference as it lies there: its height above the cloth, where it is not known,
 * and its own marks are no fault of the reading. Normalised errors (z) are against the true lengths, since the
 * stated standard deviation has to cover both.
 */
export interface Score {
  readonly name: string;
  readonly group: string;
  readonly drawn: string;
  readonly tiltDeg: number;
  readonly expectedExit: number;
  readonly exit: number;
  readonly said: string;
  readonly seconds: number;
  readonly peakMb: number | null;
  readonly warnings: readonly string[];
  readonly measured: Measured | null;
}

export interface Measured {
  readonly scalePercent: number | null;
  readonly repeatPercent: number | null;
  /** Measured over true repeat, to tell a multiple or a part from a small error. */
  readonly repeatRatio: number | null;
  readonly bandsFound: number;
  readonly bandsTrue: number;
  readonly worstBandMm: number | null;
  readonly sharePoints: number | null;
  readonly balancedRight: boolean | null;
  readonly tiltErrorDeg: number | null;
  readonly directionErrorDeg: number | null;
  /** Largest departure over the photo of the local scale across the stripes from its median, percent. */
  readonly planePercent: number | null;
  readonly zScale: number | null;
  readonly zRepeat: number | null;
  readonly zWidths: readonly number[];
  readonly firstFault: FirstFault | null;
  /** A wrong answer, five standard deviations off or of another number of bands, that nothing warns of. */
  readonly confidentlyWrong: boolean;
  readonly notes: readonly string[];
}

/** Warnings that tell how the photo was taken, not that a number is in doubt. */
const NO_DOUBT = new Set(['points', 'tilt']);
const FAR_Z = 5;

export function scoreOf(truth: SceneTruth, run: MeasureRun, drawn: string): Score {
  const due = truth.expected_outcome === 'measure';
  return {
    name: truth.name,
    group: truth.category,
    drawn,
    tiltDeg: truth.tilt_deg,
    expectedExit: EXIT_CODES[truth.expected_outcome],
    exit: run.exitCode,
    said: run.said.split('\n').at(-1)?.slice(0, 140) ?? '',
    seconds: run.seconds,
    peakMb: run.peakMb,
    warnings: run.model?.warnings.map(({ code }) => code) ?? [],
    measured: due && run.model ? measuredScore(run.model, truth) : null,
  };
}

/**
 * What the reference makes of lengths however well it is read: its marks may be off, and it lies above the cloth by what the photo does not
 * show. How thick a card is, is known (ISO/IEC 7810), and allowed for by who reads it.
 */
function unseenGain(truth: SceneTruth): number {
  const gain = truth.reference?.apparent_gain ?? 1;
  if (truth.reference?.type !== 'card-id1') return gain;
  return gain * (1 - (truth.reference.height_mm ?? 0) / lensHeightMm(truth));
}

function measuredScore(model: BandModel, truth: SceneTruth): Measured {
  const gain = unseenGain(truth);
  const plain = compareWithTruth(model, truth);
  const laid = (percent: number | null) => (percent === null ? null : 100 * ((1 + percent / 100) * gain - 1));
  const asLaid = compareWithTruth(inTrueUnits(model, gain), truth);
  const relativeSd = model.scale?.relative_sd ?? null;
  const repeatMm = truth.repeat_across_mm;
  const repeatSd = sdOfRepeat(model, plain);
  const found: Omit<Measured, 'firstFault' | 'confidentlyWrong'> = {
    scalePercent: laid(plain.scalePercent),
    repeatPercent: laid(plain.repeatPercent),
    repeatRatio: plain.repeatPercent === null ? null : 1 + plain.repeatPercent / 100,
    bandsFound: plain.bandsFound,
    bandsTrue: plain.bandsTrue,
    worstBandMm: asLaid.worstBandMm,
    sharePoints: plain.sharePoints,
    balancedRight: plain.balancedRight,
    tiltErrorDeg: plain.tiltDeg,
    // The two directions of a check may change places.
    directionErrorDeg:
      plain.ofCheck && plain.directionDeg !== null ? 90 - Math.abs(plain.directionDeg) : plain.directionDeg,
    planePercent: planePercent(model, truth),
    zScale: plain.scalePercent !== null && relativeSd ? plain.scalePercent / 100 / relativeSd : null,
    zRepeat:
      plain.repeatPercent !== null && repeatSd && repeatMm
        ? ((plain.repeatPercent / 100) * repeatMm) / repeatSd
        : null,
    zWidths: plain.widthErrors.map(({ errorMm, sdMm }) => errorMm / sdMm),
    notes: [...plain.notes, ...furtherNotes(model, truth, plain, gain)],
  };
  const far = [found.zScale, found.zRepeat, ...found.zWidths].some((z) => z !== null && Math.abs(z) > FAR_Z);
  const wrong = far || found.bandsFound !== found.bandsTrue;
  const doubted = model.warnings.some(({ code }) => !NO_DOUBT.has(code));
  return { ...found, firstFault: firstFault(found), confidentlyWrong: wrong && !doubted };
}

/** What the columns have no room for: the other direction of a check, shading, skew against a selvage. */
function furtherNotes(model: BandModel, truth: SceneTruth, { ofCheck }: Comparison, gain: number): string[] {
  const notes: string[] = [];
  const found = model.stripes.layout === 'check';
  if (truth.check && !found) notes.push('not seen as a check');
  if (!truth.check && found) notes.push('taken for a check');
  if (truth.check && model.check) {
    const other = ofCheck ? model : model.check;
    const { across_mm } = other.repeat;
    const percent = across_mm === null ? null : 100 * ((across_mm * gain) / truth.check.repeat_mm - 1);
    if (percent === null || Math.abs(percent) > 0.3)
      notes.push(`other direction: ${percent === null ? 'no repeat' : `repeat ${percent.toFixed(2)} %`}`);
    if (other.bands.length !== truth.check.bands.length)
      notes.push(`other direction: ${other.bands.length} bands of ${truth.check.bands.length}`);
  }
  const shaded = truth.bands.some((band) => band.shades_to_srgb_hex !== undefined);
  if (shaded && !model.warnings.some(({ code }) => /shad|ombre/.test(code))) notes.push('shading not told');
  if (truth.skew_percent > 0.05) {
    const { skew_percent } = model.stripes;
    notes.push(`skew ${skew_percent?.toFixed(2) ?? 'not told'} of ${truth.skew_percent.toFixed(2)} %`);
  }
  return notes;
}

const sdOfRepeat = (model: BandModel, { ofCheck }: Comparison): number | null =>
  (ofCheck ? model.check?.repeat : model.repeat)?.across_sd_mm ?? null;

/** The same model with its lengths put right for the gain of the reference it was measured by. */
function inTrueUnits(model: BandModel, gain: number): BandModel {
  const stretched = <T extends BandModel['bands'][number]>(bands: readonly T[]): T[] =>
    bands.map((band) => ({ ...band, width_mm: band.width_mm * gain }));
  return {
    ...model,
    bands: stretched(model.bands),
    ...(model.check ? { check: { ...model.check, bands: stretched(model.check.bands) } } : {}),
  };
}

function firstFault(m: Omit<Measured, 'firstFault' | 'confidentlyWrong'>): FirstFault | null {
  const beyond = (value: number | null, limit: number) => value !== null && !(Math.abs(value) <= limit);
  if (beyond(m.scalePercent, 0.3)) return 'reference';
  if (beyond(m.directionErrorDeg, 1) || m.notes.includes('wrong direction')) return 'direction';
  if (m.bandsFound !== m.bandsTrue) return 'bands';
  if (beyond(m.planePercent, 0.6)) return 'plane';
  if (m.repeatPercent === null || beyond(m.repeatPercent, 0.3)) return 'repeat';
  if (beyond(m.worstBandMm, 0.5)) return 'widths';
  return beyond(m.sharePoints, 2) ? 'shares' : null;
}

/** How unevenly the measured plane stretches across the stripes over the photo. */
function planePercent(model: BandModel, truth: SceneTruth): number | null {
  const cloth = measuredClothFromPhoto(model);
  if (!cloth) return null;
  const trueCloth = trueClothFromPhoto(truth);
  const [width, height] = truth.image_size;
  const gains: number[] = [];
  for (const fx of [0.08, 0.36, 0.64, 0.92])
    for (const fy of [0.08, 0.36, 0.64, 0.92]) {
      const at: Point = [fx * width, fy * height];
      const step = growthInPhoto(trueCloth, at, 0);
      const length = (frame: typeof cloth) => {
        const a = frame([at[0] - step[0], at[1] - step[1]]);
        const b = frame([at[0] + step[0], at[1] + step[1]]);
        return Math.hypot(b[0] - a[0], b[1] - a[1]);
      };
      gains.push(length(cloth) / length(trueCloth));
    }
  const middle = median(gains);
  return 100 * Math.max(...gains.map((gain) => Math.abs(gain / middle - 1)));
}
