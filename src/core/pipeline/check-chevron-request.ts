import {
  checkFields,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  orNull,
  record,
  text,
  yesOrNo,
} from '../base/expectation.js';
import { LAYS } from '../seam/lay.js';
import { LONGEST_SEAM_MM } from '../seam/seam-request.js';

const angle = numberWithin({ above: 0, most: 90 }, 'degrees');

const REQUEST = record(
  {
    angles: listOf(
      listOf(angle, { least: 2, most: 2 }, 'angles, left and right'),
      { least: 1 },
      'pairs of angles',
    ),
    centres: orNull(listOf(text, { least: 1 }, 'bands')),
    seamMm: finiteNumber,
    atMm: orNull(finiteNumber),
    shiftMm: numberWithin({ least: -LONGEST_SEAM_MM, most: LONGEST_SEAM_MM }, 'mm'),
    allowanceMm: finiteNumber,
    point: oneOf(['down', 'up']),
    lay: orNull(oneOf(LAYS)),
    anyway: yesOrNo,
    clearMm: orNull(finiteNumber),
    handlingMm: finiteNumber,
    visibleMm: finiteNumber,
    agreeAtMm: orNull(finiteNumber),
  },
  'the seams to look at',
);

/** Throws UsageError unless each value can be meant by itself; what the model makes of them is asked where it is used. */
export const checkChevronRequest = (request: unknown): void => checkFields(request, 'request', REQUEST);
