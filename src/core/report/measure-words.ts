import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { BandModel, ScaleFacts } from '../model/band-model.js';

/** "give or take 0.02 mm": the truth lies within it about two times in three. */
export const giveOrTake = (sdMm: number, unit: LengthUnit): string =>
  `give or take ${formatSmall(sdMm, unit)}`;

/** "55.0 mm, give or take 0.02 mm", or why there is none. */
export function repeatWords({ repeat }: BandModel, unit: LengthUnit): string {
  if (repeat.across_mm === null) return 'none in view';
  const doubt = repeat.across_sd_mm;
  return `${formatLength(repeat.across_mm, unit, doubt)}${doubt === null ? '' : `, ${giveOrTake(doubt, unit)}`}`;
}

/** One word for headings. */
export function balanceWord(model: BandModel): string {
  if (model.repeat.across_mm === null) return 'balance unknown';
  return model.symmetry.balanced ? 'balanced' : 'not balanced';
}

/** What balance means for cutting, in a maker's words. */
export function balanceSentence(model: BandModel): string {
  if (model.repeat.across_mm === null) {
    return 'Balance cannot be told: no whole repeat was in view.';
  }
  if (model.symmetry.balanced) {
    return 'Balanced: the bands read the same from either side, so a mirrored pair can match with both pieces the same way up.';
  }
  return 'Not balanced: the bands read differently from left and from right. To match a mirrored pair, one piece must lie head to tail on the cloth; where a print or nap runs one way, that shows.';
}

/** Whether pieces may be turned round, in a maker's words. */
export function directionSentence(model: BandModel): string {
  const { symmetry } = model;
  if (symmetry.directional === null) {
    return symmetry.half_turn === undefined
      ? 'Whether a print or nap runs one way cannot be told from this photo: look, and stroke the cloth.'
      : `Whether the print runs one way is too close to call (${percentAlike(symmetry.half_turn.score)} of it looks the same when turned round): look, and if in doubt cut every piece pointing the same way.`;
  }
  if (symmetry.verdict === undefined) {
    return symmetry.directional
      ? 'One-way: what is printed on the cloth points one way along the stripes, so every piece must lie the same way up.'
      : 'Two-way: nothing printed on the cloth points one way along the stripes.';
  }
  const sure =
    symmetry.verdict_confidence === undefined
      ? ''
      : ` (The program is ${(100 * symmetry.verdict_confidence).toFixed(0)} % sure of it.)`;
  switch (symmetry.verdict) {
    case 'one-way':
      return `One-way: ${heavyEndWords(model)}. Cut every piece pointing the same way.${acrossWords(symmetry)}${sure}`;
    case 'mirror-symmetrical':
      return `Mirror-symmetrical: the print looks the same in a mirror laid across the stripes, but not when a piece is turned round. Cut plain pieces pointing the same way; of a mirrored pair one may lie head to tail.${sure}`;
    default:
      return `Two-way: the print looks the same when one end of the cloth is turned round, so pieces may point either way.${sure}`;
  }
}

const percentAlike = (score: number): string => `${(100 * score).toFixed(0)} %`;

function heavyEndWords({ symmetry, stripes }: BandModel): string {
  if (!symmetry.heavy_end) return 'the print looks different from the other end of the stripes';
  // v grows upwards in the photo, or to the right where stripes are level.
  const deg = stripes.direction_deg ?? 90;
  const isLevel = deg < 45 || deg >= 135;
  const side = symmetry.heavy_end === 'up' ? (isLevel ? 'right' : 'top') : isLevel ? 'left' : 'bottom';
  return `the motifs are all heavier towards the ${side} of the photo`;
}

const acrossWords = ({ mirror_across }: BandModel['symmetry']): string =>
  mirror_across?.same ? ' From side to side each is its own mirror image.' : '';

/** "straight", "half-drop", "third-drop", or the fraction. */
export function dropWords(drop: number): string {
  const named: readonly (readonly [number, string])[] = [
    [0, 'one level with the next'],
    [1 / 2, 'in half-drop'],
    [1 / 3, 'dropped by a third of it from one column to the next'],
    [2 / 3, 'dropped by two thirds of it from one column to the next'],
    [1 / 4, 'dropped by a quarter of it from one column to the next'],
    [3 / 4, 'dropped by three quarters of it from one column to the next'],
  ];
  const near = named.find(([part]) => Math.abs(drop - part) < 0.01);
  return near ? near[1] : `dropped by ${drop.toFixed(2)} of it from one column to the next`;
}

const SOURCES: Readonly<Record<ScaleFacts['source'], string>> = {
  ruler: 'a ruler',
  sheet: 'a sheet of paper',
  card: 'a card',
  points: 'two given points',
  density: 'the given density',
};

/** "a ruler in mm, 281.0 mm of it in view" */
export function scaleSourceWords(scale: ScaleFacts, unit: LengthUnit): string {
  const marks =
    scale.unit === null || scale.source !== 'ruler' ? '' : ` in ${scale.unit === 'mm' ? 'mm' : 'inches'}`;
  const length =
    scale.length_mm === null ? '' : formatLength(scale.length_mm, unit, scale.length_mm * scale.relative_sd);
  if (scale.source === 'points' && length !== '') return `two given points, ${length} apart`;
  return `${SOURCES[scale.source]}${marks}${scale.source === 'ruler' && length !== '' ? `, ${length} of it in view` : ''}`;
}

/** "8.930 pixels a mm, give or take 0.010 %, from a ruler in mm, 281.0 mm of it in view" */
export const scaleWords = (scale: ScaleFacts, unit: LengthUnit): string =>
  `${densityWords(scale)}, from ${scaleSourceWords(scale, unit)}`;

export const densityWords = ({ px_per_mm, relative_sd }: ScaleFacts): string =>
  `${px_per_mm.toPrecision(4)} pixels a mm, give or take ${percent(relative_sd)}`;

const percent = (fraction: number): string => `${(100 * fraction).toFixed(fraction < 0.001 ? 3 : 2)} %`;

/** "1.4 degrees, corrected", or that nobody looked. */
export function tiltWords({ plane, scale }: BandModel): string | null {
  if (plane === undefined || plane === null) return null;
  return scale?.source === 'density'
    ? 'not looked for, taken as a flat scan'
    : `${plane.tilt_deg.toFixed(1)} degrees, corrected`;
}

/** One line under the overlay. */
export function overlayCaption(model: BandModel, unit: LengthUnit): string {
  const parts = [
    model.repeat.across_mm === null ? 'no repeat in view' : `repeat ${repeatWords(model, unit)}`,
    `${countWords(model.bands.length, 'band')}${model.given?.bands === model.bands.length ? ' as given' : ''}`,
    balanceWord(model),
  ];
  if (model.scale) parts.push(`scale from ${scaleSourceWords(model.scale, unit)}`);
  const tilt = tiltWords(model);
  if (tilt !== null) parts.push(`tilt ${tilt}`);
  return parts.join('; ');
}

export const countWords = (count: number, noun: string): string =>
  `${count} ${noun}${count === 1 ? '' : 's'}`;

/** Name of a colour of the model, with its id where two colours share the name. */
export function colourName(model: BandModel, id: string): string {
  const name = model.colours.find((colour) => colour.id === id)?.name;
  if (!name) return id;
  const alike = model.colours.filter((colour) => colour.name === name).length;
  return alike > 1 ? `${name} ${id}` : name;
}

/** Instances of a band that were seen whole in width. */
export const timesSeen = (instances: BandModel['instances'], band: string): number =>
  instances.filter((one) => one.band === band && one.whole).length;

/** Before the scissors: what no photo can know. */
export const CAUTIONS: readonly string[] = [
  'Check one length on the cloth with your own ruler before you cut. An ordinary ruler may itself be out by up to 0.3 %.',
  'Cloth shrinks: wash and press it first, then photograph it.',
  'Cloth stretches on the bias: a piece laid or handled slantwise measures longer than it was cut.',
  'Match stripes on the stitching line, never on the cutting line.',
];

/** What stripes, checks and crosswise prints are usually allowed, percent (common practice: 1 to 2; ASTM D3882 sets no limit). */
const USUAL_PERCENT = 1.5;

/** Whether the cloth lies square: bow over the stripes in view, and skew where something square to them shows. Empty for a typed model. */
export function distortionSentence({ stripes }: BandModel): string {
  const { bow_percent: bow, skew_percent: skew, layout } = stripes;
  const parts = [
    bow === null
      ? ''
      : bow < 0.05
        ? 'The stripes run straight.'
        : `The stripes bow by ${bow.toFixed(1)} % of the length in view.`,
    skew === null
      ? ''
      : `They are ${Math.abs(skew).toFixed(1)} % from square to ${layout === 'check' ? 'each other' : 'the selvage'}.`,
    Math.max(bow ?? 0, Math.abs(skew ?? 0)) > USUAL_PERCENT
      ? 'Pull the cloth straight and press it before you cut, then photograph it again.'
      : '',
  ];
  return parts.filter((part) => part !== '').join(' ');
}
