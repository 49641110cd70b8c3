import { anyText, check, optional, record } from './expectation.js';
import { type GivenName, parseGivenNames } from './given-names.js';
import { parseLengthMm } from './length.js';
import { UsageError } from './outcome.js';
import { DENSITY, isConvex, LEAST_REGION_PX, MOST_BANDS } from './request-limits.js';

/** How the scale is to be had. Points in the photo frame, px. */
export type ReferenceRequest =
  | {
      /** A ruler is looked for in the photo; a sheet or card that leaves no doubt stands in for it. */
      readonly kind: 'ruler';
      /** What the ruler is marked in; auto: as its marks say. */
      readonly unit: 'auto' | 'mm' | 'inch';
      /** How true the ruler is made; default II. */
      readonly rulerClass?: RulerClass;
    }
  | {
      /** Two points a known length apart. */
      readonly kind: 'points';
      /** One end, photo px. */
      readonly from: readonly [number, number];
      /** The other end, photo px. */
      readonly to: readonly [number, number];
      /** From one to the other, mm. */
      readonly lengthMm: number;
      /** Of the ruler the length was taken with; default II. */
      readonly rulerClass?: RulerClass;
    }
  | {
      /** A sheet of paper or a bank card. */
      readonly kind: 'sheet';
      /** Which: a4 210 x 297 mm, letter 8.5 x 11 in, id1 a bank card, 85.6 x 53.98 mm. */
      readonly size: SheetSize;
      /** Four corners, photo px, in order round the sheet, or null to find them. */
      readonly corners: readonly (readonly [number, number])[] | null;
    }
  | {
      /** A scan, or a photo from straight above, whose scale is known: no tilt is solved. */
      readonly kind: 'density';
      /** Photo px to a mm of cloth. */
      readonly pxPerMm: number;
    };

/** Accuracy class of a material measure of length: Directive 2014/32/EU, Annex X (MI-008). */
export type RulerClass = 'I' | 'II' | 'III';

export type SheetSize = 'a4' | 'letter' | 'id1';

/** Stages in the order they run; progress is told by these names. */
export type Stage =
  | 'reading'
  | 'reference'
  | 'stripes'
  | 'plane'
  | 'edges'
  | 'repeat'
  | 'pictures'
  | 'writing';

/** The words a person typed for the scale, as typed; absent when not given. */
export interface ReferenceWords {
  /** `x1,y1,x2,y2,LENGTH` */
  readonly points?: string;
  /** `a4`, `letter` or `id1` */
  readonly sheet?: string;
  /** `x,y,x,y,x,y,x,y`, only with sheet */
  readonly corners?: string;
  /** `mm`, `inch` or `auto` */
  readonly ruler?: string;
  /** px per mm */
  readonly density?: string;
  /** `I`, `II` or `III`, only with a ruler or points */
  readonly rulerClass?: string;
}

/** What a person says of the stripes, where finding them fails or doubts. Photo frame. */
export interface StripeHints {
  /** Direction of the stripes, degrees counter-clockwise as seen, 0 along +x, in [0, 180); null: to be found. */
  readonly directionDeg: number | null;
  /** The only part of the photo that is read for stripes, px; null: all of it. The ruler may lie outside. */
  readonly region: PhotoRegion | null;
  /** How many bands make one repeat; null: to be found. */
  readonly bands: number | null;
  /** What the colours are to be called; the rest keep the names they are found to have. */
  readonly names?: readonly GivenName[];
}

/** An upright rectangle of the photo, px. */
export interface PhotoRegion {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export const NO_HINTS: StripeHints = { directionDeg: null, region: null, bands: null };

/** The words a person typed about the stripes, as typed; absent when not given. */
export interface StripeWords {
  /** degrees */
  readonly direction?: string;
  /** `x,y,w,h`, px */
  readonly region?: string;
  /** a whole number */
  readonly bands?: string;
  /** `ochre,indigo,ivory` or `A=indigo,C=ochre` */
  readonly names?: string;
}

const asTyped = optional(anyText);
const REFERENCE_WORDS = record({
  points: asTyped,
  sheet: asTyped,
  corners: asTyped,
  ruler: asTyped,
  density: asTyped,
  rulerClass: asTyped,
});

/** Reads what was typed about the stripes. Throws UsageError when a value makes no sense. */
export function parseStripeHints(words: StripeWords): StripeHints {
  check(words, 'words', record({ direction: asTyped, region: asTyped, bands: asTyped, names: asTyped }));
  return {
    directionDeg: words.direction === undefined ? null : parseDirection(words.direction),
    region: words.region === undefined ? null : parseRegion(words.region),
    bands: words.bands === undefined ? null : parseBands(words.bands),
    ...(words.names === undefined ? {} : { names: parseGivenNames(words.names) }),
  };
}

function parseDirection(text: string): number {
  const degrees = coordinate(text);
  if (!(degrees >= -180 && degrees <= 180)) {
    throw new UsageError(
      `expected the stripes' direction in degrees, 0 level, 90 upright, 45 rising to the right, received "${text}"`,
      'direction',
    );
  }
  return ((degrees % 180) + 180) % 180;
}

function parseRegion(text: string): PhotoRegion {
  const [x, y, width, height, ...rest] = text.split(',').map(coordinate);
  if (height === undefined || rest.length > 0 || [x, y, width, height].some(Number.isNaN)) {
    throw new UsageError(
      `expected x,y,width,height in photo pixels, such as 400,300,2000,1500, received "${text}"`,
      'region',
    );
  }
  if (width < LEAST_REGION_PX || height < LEAST_REGION_PX) {
    throw new UsageError(
      `expected at least ${LEAST_REGION_PX} pixels each way, received ${width} x ${height}: give a larger part`,
      'region',
    );
  }
  return { x, y, width, height };
}

function parseBands(text: string): number {
  const bands = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!(bands >= 2 && bands <= MOST_BANDS)) {
    throw new UsageError(
      `expected how many bands make one repeat, 2 to ${MOST_BANDS}, received "${text}"`,
      'bands',
    );
  }
  return bands;
}

/**
 * Reads what was typed into one request. Nothing typed means: find a ruler, whatever its unit.
 * Throws UsageError when two ways of giving the scale are named, or a value makes no sense.
 */
export function parseReferenceRequest(words: ReferenceWords): ReferenceRequest {
  check(words, 'words', REFERENCE_WORDS);
  const given = (['points', 'sheet', 'ruler', 'density'] as const).filter(
    (name) => words[name] !== undefined,
  );
  if (given.length > 1) {
    throw new UsageError(`${given.join(' and ')} each give the scale: keep one of them`, null, given);
  }
  if (words.corners !== undefined && words.sheet === undefined) {
    throw new UsageError('say what lies between the corners, a4, letter or id1, as well', 'corners', [
      'sheet',
    ]);
  }
  const other = given.find((name) => name === 'sheet' || name === 'density');
  if (words.rulerClass !== undefined && other !== undefined) {
    throw new UsageError(`it says nothing of a ${other}: leave one of them out`, 'rulerClass', [other]);
  }
  const ofClass =
    words.rulerClass === undefined
      ? {}
      : { rulerClass: oneOf(words.rulerClass, ['I', 'II', 'III'] as const, 'rulerClass') };
  if (words.points !== undefined) return { ...parsePoints(words.points), ...ofClass };
  if (words.sheet !== undefined) return parseSheet(words.sheet, words.corners);
  if (words.density !== undefined) {
    const pxPerMm = Number(words.density);
    if (!(pxPerMm >= DENSITY.least && pxPerMm <= DENSITY.most)) {
      throw new UsageError(
        `expected pixels per mm between ${DENSITY.least} and ${DENSITY.most} (300 dpi is 11.811), received "${words.density}"`,
        'density',
      );
    }
    return { kind: 'density', pxPerMm };
  }
  const unit = oneOf(words.ruler ?? 'auto', ['auto', 'mm', 'inch'] as const, 'ruler');
  return { kind: 'ruler', unit, ...ofClass };
}

function parsePoints(text: string): Extract<ReferenceRequest, { kind: 'points' }> {
  const parts = text.split(',');
  const numbers = parts.slice(0, 4).map(coordinate);
  if (parts.length !== 5 || numbers.some(Number.isNaN)) {
    throw new UsageError(
      `expected x1,y1,x2,y2,LENGTH in photo pixels, such as 120,80,3400,95,300mm, received "${text}"`,
      'points',
    );
  }
  const [x1, y1, x2, y2] = numbers as [number, number, number, number];
  if (Math.hypot(x2 - x1, y2 - y1) < 1) {
    throw new UsageError('the two points are the same: give the two ends of a known length', 'points');
  }
  return {
    kind: 'points',
    from: [x1, y1],
    to: [x2, y2],
    lengthMm: parseLengthMm(parts[4] as string, 'points'),
  };
}

function parseSheet(text: string, corners: string | undefined): ReferenceRequest {
  const size = oneOf(text, ['a4', 'letter', 'id1'] as const, 'sheet');
  if (corners === undefined) return { kind: 'sheet', size, corners: null };
  const numbers = corners.split(',').map(coordinate);
  if (numbers.length !== 8 || numbers.some(Number.isNaN)) {
    throw new UsageError(
      `expected eight numbers x,y,x,y,x,y,x,y in order round the sheet, received "${corners}"`,
      'corners',
    );
  }
  const points = [0, 2, 4, 6].map((k) => [numbers[k], numbers[k + 1]] as [number, number]);
  if (!isConvex(points)) {
    throw new UsageError('the four corners must go round the sheet in order, without crossing', 'corners');
  }
  return { kind: 'sheet', size, corners: points };
}

/** A plain decimal number, or NaN: Number() alone would take an empty text for nought. */
const coordinate = (text: string): number => (/^\s*-?\d+(\.\d*)?\s*$/.test(text) ? Number(text) : Number.NaN);

function oneOf<T extends string>(text: string, choices: readonly T[], parameter: string): T {
  const choice = choices.find((name) => name.toLowerCase() === text.toLowerCase());
  if (choice === undefined) {
    throw new UsageError(`expected ${choices.join(', ')}, received "${text}"`, parameter);
  }
  return choice;
}
