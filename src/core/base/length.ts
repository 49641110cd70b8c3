import {
  anyText,
  check,
  checkAll,
  type Expectation,
  finiteNumber,
  numberWithin,
  oneOf,
  optional,
  orNull,
} from './expectation.js';
import { UsageError } from './outcome.js';

/** What lengths are shown in. Inside, every length is in mm. */
export type LengthUnit = 'mm' | 'cm' | 'inch';

/** See `LengthUnit`. */
export const LENGTH_UNIT: Expectation = oneOf(['mm', 'cm', 'inch']);

/** Exactly, since the international yard and pound agreement of 1 July 1959. */
export const MM_PER_INCH = 25.4;

const MM_PER: Readonly<Record<string, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  in: MM_PER_INCH,
  inch: MM_PER_INCH,
  inches: MM_PER_INCH,
  '"': MM_PER_INCH,
  '″': MM_PER_INCH,
};

const LENGTH = /^(\d+(?:\.\d+)?|\.\d+)?(?:(?:^|\s+|-)(\d+)\/(\d+))?\s*(mm|cm|m|inches|inch|in|"|″)$/i;

/**
 * Reads a length with its unit: `300mm`, `30 cm`, `12in`, `12"`, `11 13/16in`, `13/16 in`. Returns mm.
 * Throws UsageError, naming the parameter, when there is no unit, no number, or no length above zero.
 */
export function parseLengthMm(text: string, parameter: string): number {
  checkAll({ text: [text, anyText], parameter: [parameter, anyText] });
  const parts = LENGTH.exec(text.trim());
  const [, whole, over, under, unit] = parts ?? [];
  const value = Number(whole ?? 0) + (over && under ? Number(over) / Number(under) : 0);
  const lengthMm = value * (MM_PER[unit?.toLowerCase() ?? ''] ?? Number.NaN);
  if ((whole === undefined && over === undefined) || !(lengthMm > 0) || !Number.isFinite(lengthMm)) {
    throw new UsageError(
      `expected a length with its unit, such as 300mm, 30cm, 12in or "11 13/16in", received "${text}"`,
      parameter,
    );
  }
  // To the nanometre, so that 12 in reads 304.8 and not 304.79999999999995.
  return Math.round(lengthMm * 1e6) / 1e6;
}

/** What a signed length in a file looks like: `12in`, `4 1/2 in`, `30cm`, `-3mm`. */
export const SIGNED_LENGTH_PATTERN =
  '^\\s*[-\\u2212]?\\s*(\\d+(\\.\\d+)?|\\.\\d+|\\d+\\s*/\\s*[1-9]\\d*|\\d+[\\s-]+\\d+\\s*/\\s*[1-9]\\d*)\\s*(mm|cm|m|inches|inch|in|"|\\u2033)\\s*$';

const SIGNED_LENGTH = new RegExp(SIGNED_LENGTH_PATTERN);

/** A length with its unit as a place or a distance in a file, mm; nought and less are lengths here. Null when it is none. */
export function signedLengthMm(text: string): number | null {
  if (!SIGNED_LENGTH.test(text)) return null;
  const sign = /^\s*[-\u2212]/.test(text) ? -1 : 1;
  const [, digits, unit] = /^\s*[-\u2212]?\s*([\d./\s-]+?)\s*([a-z"\u2033]+)\s*$/.exec(
    text,
  ) as RegExpExecArray;
  const fraction = /(\d+)\s*\/\s*(\d+)$/.exec(digits);
  const whole = fraction === null ? digits : digits.slice(0, fraction.index).replace(/[\s-]+$/, '');
  const value = Number(whole) + (fraction === null ? 0 : Number(fraction[1]) / Number(fraction[2]));
  // To the nanometre, so that 12 in reads 304.8 and not 304.79999999999995. Adding 0 turns -0 into 0.
  return Math.round(sign * value * MM_PER[unit] * 1e6) / 1e6 + 0;
}

/** What a length is good to unless said otherwise: half of the tenth of a mm to which it is shown in mm. */
const USUAL_DOUBT_MM = 0.05;

/**
 * A length as makers read it: `12.3 mm`, `1.23 cm`, `11 13/16 in`. A sixteenth may be out by 0.8 mm: where the nearest one is
 * further from the length than its doubt, decimals follow, `2 5/8 in (2.594)`.
 *
 * @param doubtMm what the length is good to, such as its standard deviation; half of 0.1 mm unless given
 */
export function formatLength(lengthMm: number, unit: LengthUnit, doubtMm?: number | null): string {
  return unit === 'inch'
    ? withDecimals(lengthMm, doubtMm, ` ${unitMark(unit)}`)
    : `${formatLengthNumber(lengthMm, unit)} ${unitMark(unit)}`;
}

/** The same without the unit's mark, for columns that carry it in their heading: `2 5/8 (2.594)`. */
export function formatLengthNumber(lengthMm: number, unit: LengthUnit, doubtMm?: number | null): string {
  return unit === 'inch' ? withDecimals(lengthMm, doubtMm, '') : formatDecimals(lengthMm, unit);
}

/** As a tape shows it: inches to the nearest sixteenth and no decimals, for what is cut and sewn by hand. */
export const formatTapeLength = (lengthMm: number, unit: LengthUnit): string =>
  formatLength(lengthMm, unit, MM_PER_INCH / 16);

/** In decimals whatever the unit, without its mark: for columns beside one that tells the fraction of an inch. */
export function formatDecimals(lengthMm: number, unit: LengthUnit): string {
  check(unit, 'unit', LENGTH_UNIT);
  check(lengthMm, 'lengthMm', finiteNumber);
  if (unit === 'mm') return plain(lengthMm, 1);
  if (unit === 'cm') return plain(lengthMm / 10, 2);
  return plain(lengthMm / MM_PER_INCH, 3);
}

function withDecimals(lengthMm: number, doubtMm: number | null | undefined, mark: string): string {
  checkAll({
    lengthMm: [lengthMm, finiteNumber],
    doubtMm: [doubtMm, optional(orNull(numberWithin({ least: 0 }, 'mm')))],
  });
  const inches = lengthMm / MM_PER_INCH;
  const lostMm = Math.abs(Math.round(inches * 16) / 16 - inches) * MM_PER_INCH;
  const decimals = lostMm > (doubtMm ?? USUAL_DOUBT_MM) ? ` (${formatDecimals(lengthMm, 'inch')})` : '';
  return `${inchFraction(inches)}${mark}${decimals}`;
}

/** A standard deviation or a small error: two more decimals than the length, since sixteenths would hide it. */
export function formatSmallNumber(lengthMm: number, unit: LengthUnit): string {
  check(unit, 'unit', LENGTH_UNIT);
  check(lengthMm, 'lengthMm', finiteNumber);
  const [value, decimals] =
    unit === 'mm' ? [lengthMm, 2] : [unit === 'cm' ? lengthMm / 10 : lengthMm / MM_PER_INCH, 3];
  const least = 10 ** -decimals;
  // Small is not nothing: "0.00" would read as exact.
  return value > 0 && value < least / 2 ? `under ${least}` : plain(value, decimals);
}

export const formatSmall = (lengthMm: number, unit: LengthUnit): string =>
  `${formatSmallNumber(lengthMm, unit)} ${unitMark(unit)}`;

export const unitMark = (unit: LengthUnit): string => (unit === 'inch' ? 'in' : unit);

/** At most so many decimals, without noughts that say nothing: 15, 12.5. */
export const formatPlainNumber = (value: number, decimals: number): string =>
  String(Number(value.toFixed(decimals)) + 0);

/** Fixed decimals, without a minus before nought. */
const plain = (value: number, decimals: number): string =>
  value.toFixed(decimals).replace(/^-(0(\.0*)?)$/, '$1');

function inchFraction(inches: number): string {
  const sign = inches < 0 ? '-' : '';
  const sixteenths = Math.round(Math.abs(inches) * 16);
  if (sixteenths === 0) return inches === 0 ? '0' : `under ${sign}1/16`;
  const whole = Math.floor(sixteenths / 16);
  let over = sixteenths % 16;
  if (over === 0) return `${sign}${whole}`;
  let under = 16;
  while (over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  return `${sign}${whole > 0 ? `${whole} ` : ''}${over}/${under}`;
}
