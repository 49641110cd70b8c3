import {
  checkFields,
  type Expectation,
  finiteNumber,
  listOf,
  numberWithin,
  oneOf,
  optional,
  orNull,
  record,
  text,
  wholeNumber,
} from './expectation.js';
import { UsageError } from './outcome.js';
import type { ReferenceRequest } from './request.js';
import { DENSITY, isConvex, LEAST_REGION_PX, MOST_BANDS } from './request-limits.js';

/** No room for a longer one before a camera: a kilometre, mm. */
const LONGEST_MM = 1e6;

const photoPoint = listOf(finiteNumber, { least: 2, most: 2 }, 'pixels, x and y');
const rulerClass = optional(oneOf(['I', 'II', 'III']));

const KINDS: Readonly<Record<ReferenceRequest['kind'], Expectation>> = {
  ruler: record({ unit: oneOf(['auto', 'mm', 'inch']), rulerClass }),
  points: record({
    from: photoPoint,
    to: photoPoint,
    lengthMm: numberWithin({ above: 0, most: LONGEST_MM }, 'mm'),
    rulerClass,
  }),
  sheet: record({
    size: oneOf(['a4', 'letter', 'id1']),
    corners: orNull(listOf(photoPoint, { least: 4, most: 4 }, 'corners')),
  }),
  density: record({ pxPerMm: numberWithin(DENSITY, 'pixels a mm') }),
};

const REQUEST = record({ kind: oneOf(Object.keys(KINDS)) }, 'how the scale is to be had');

/** Throws UsageError unless the scale can be had so; whether points lie in the photo is not asked here. */
export function checkReferenceRequest(request: ReferenceRequest): void {
  checkFields(request, 'request', REQUEST);
  checkFields(request, 'request', KINDS[request.kind]);
  if (request.kind === 'points') {
    const [{ from, to }, apart] = [request, 1];
    if (Math.hypot(to[0] - from[0], to[1] - from[1]) < apart) {
      throw new UsageError('the two points are the same: give the two ends of a known length', 'to');
    }
  }
  if (request.kind === 'sheet' && request.corners !== null && !isConvex(request.corners)) {
    throw new UsageError('the four corners must go round the sheet in order, without crossing', 'corners');
  }
}

/** See `StripeHints`. */
export const STRIPE_HINTS: Expectation = record(
  {
    directionDeg: orNull(numberWithin({ least: 0, below: 180 }, 'degrees')),
    region: orNull(
      record(
        {
          x: finiteNumber,
          y: finiteNumber,
          width: numberWithin({ least: LEAST_REGION_PX }, 'pixels'),
          height: numberWithin({ least: LEAST_REGION_PX }, 'pixels'),
        },
        'a part of the photo: x, y, width, height',
      ),
    ),
    bands: orNull(wholeNumber({ least: 2, most: MOST_BANDS })),
    names: optional(listOf(record({ name: text, colour: orNull(text) }), {}, 'names of colours')),
  },
  'what is known of the stripes',
);
