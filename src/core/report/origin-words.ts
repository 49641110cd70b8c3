import { checkAll, finiteNumber, oneOf, record, text } from '../base/expectation.js';
import { formatLength, LENGTH_UNIT, type LengthUnit } from '../base/length.js';
import type { OriginFacts } from '../model/band-model.js';

const LANDMARKS: Readonly<Record<OriginFacts['landmark'], string>> = {
  'ruler-end': "the ruler's ringed mark",
  'sheet-corner': 'the corner of the sheet',
  'card-corner': 'the corner of the card',
  'given-point': 'the given point',
  'view-corner': 'the corner of the photo',
};

/** Nearer than a chalk line is wide. */
const SAME_MM = 1;

const ORIGIN = record(
  {
    landmark: oneOf(Object.keys(LANDMARKS)),
    place: text,
    v_mm: finiteNumber,
    towards: oneOf(['up', 'down', 'left', 'right']),
  },
  "a model's origin",
);

/** How to find on the cloth where lengths along the stripes begin. */
export function originWords(origin: Omit<OriginFacts, 'words'>, unit: LengthUnit): string {
  checkAll({ origin: [origin, ORIGIN], unit: [unit, LENGTH_UNIT] });
  const { landmark, place, v_mm, towards } = origin;
  const where = landmark === 'view-corner' ? `${place} corner` : place;
  const from =
    landmark === 'view-corner'
      ? `the ${where} of the photo`
      : `${LANDMARKS[landmark]}${place === 'middle' ? ' in the middle of the photo' : ` at the ${where} of the photo`}`;
  if (Math.abs(v_mm) < SAME_MM)
    return `Lengths along the stripes count from the line marked 0. It runs square across the stripes through ${from}.`;
  return `Lengths along the stripes count from the line marked 0. To find it again: start at ${from} and go ${formatLength(Math.abs(v_mm), unit)} ${WAYS[towards]} along the stripes.`;
}

const WAYS: Readonly<Record<OriginFacts['towards'], string>> = {
  up: 'up',
  down: 'down',
  left: 'to the left',
  right: 'to the right',
};
