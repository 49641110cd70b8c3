import { signedLengthMm } from '../base/length.js';
import { UsageError } from '../base/outcome.js';
import { likelyColourWord, srgbOfColourWord } from '../colour/colour-names.js';

/** One band as it was typed. */
export interface TypedBand {
  /** "#rrggbb", lower case. */
  readonly srgb: string;
  /** The word that was typed for it; null: it was typed in numbers. */
  readonly word: string | null;
  readonly widthMm: number;
  /** The unit of the width as typed; null: none, so mm. */
  readonly unit: string | null;
}

export interface ClothText {
  /** In the order typed. */
  readonly bands: readonly TypedBand[];
  /** What the last word said of the cloth; null: nothing. */
  readonly oneWay: boolean | null;
}

export const CLOTH_EXAMPLE = '"indigo 14, ivory 9, ochre 4"';

/** Thinner than the yarns of any striped cloth, some 0.1 mm, and wider than it is woven, at most some 5 m: a slip of the unit. */
const LEAST_MM = 0.1;
const MOST_MM = 5000;

/**
 * Reads colours with their widths, `indigo 14, ivory 9mm, #c48a2c 5/8in, one-way`: a width without a unit is mm; one-way or two-way may
 * end it. Throws UsageError with the part that is wrong.
 */
export function readClothText(text: string): ClothText {
  if (typeof text !== 'string' || text.trim() === '') {
    throw wrong(`received ${typeof text === 'string' ? 'nothing' : typeof text}`);
  }
  const [, list, way] = /^(.*?)(?:[\s,]+(one|two)[\s-]?way)?\s*$/is.exec(text) as RegExpExecArray;
  return {
    bands: list.split(',').map((part, i) => readPart(part.trim(), i + 1)),
    oneWay: way === undefined ? null : way.toLowerCase() === 'one',
  };
}

export const wrong = (found: string): UsageError =>
  new UsageError(`expected a colour and its width in each part, such as ${CLOTH_EXAMPLE}; ${found}`, 'cloth');

/** A colour in numbers or words, then a width. */
const PART = /^(#\S*|\p{L}[\p{L}\s'-]*?)\s*(?<=[\s\p{L}])([-\u2212]?[\d.].*)$/u;

function readPart(part: string, place: number): TypedBand {
  const here = `part ${place}, "${part}",`;
  if (part === '') throw wrong(`part ${place} is empty`);
  const [, colour, width] = PART.exec(part) ?? [];
  if (colour === undefined) {
    if (/^(one|two)[\s-]?way$/i.test(part)) throw wrong(`${here} belongs at the end`);
    throw wrong(
      /^[-\u2212.\d]/.test(part)
        ? `${here} has no colour before its number (a part of a mm is written with a point: 14.5)`
        : `${here} has no width`,
    );
  }
  return { ...readColour(colour, here), ...readWidth(width, here) };
}

function readColour(colour: string, here: string): Pick<TypedBand, 'srgb' | 'word'> {
  if (colour.startsWith('#')) {
    if (/^#[0-9a-f]{6}$/i.test(colour)) return { srgb: colour.toLowerCase(), word: null };
    throw wrong(
      `${here} has a colour in numbers that is not # and six of 0 to 9 and a to f, such as #c48a2c`,
    );
  }
  const srgb = srgbOfColourWord(colour);
  if (srgb !== null) return { srgb, word: colour.toLowerCase().replace(/\s+/g, ' ') };
  const likely = likelyColourWord(colour);
  const instead =
    likely === null ? 'a colour can be told in numbers too, such as #c48a2c' : `is it ${likely}?`;
  throw wrong(`${here} has a colour that is not known: ${instead}`);
}

function readWidth(width: string, here: string): Pick<TypedBand, 'widthMm' | 'unit'> {
  const unit = /[^\d.\s]+$/.exec(width)?.[0].toLowerCase() ?? null;
  // A fraction without a unit is hardly one of a mm.
  const widthMm =
    unit === null && width.includes('/')
      ? null
      : signedLengthMm(width.toLowerCase() + (unit === null ? 'mm' : ''));
  if (widthMm === null) {
    throw wrong(`${here} has a width that cannot be read: it is mm, or has its unit: 9, 9mm, 0.9cm, 3/8in`);
  }
  if (!(widthMm >= LEAST_MM && widthMm <= MOST_MM)) {
    throw wrong(`${here} is ${widthMm} mm wide: a band is from ${LEAST_MM} to ${MOST_MM} mm`);
  }
  return { widthMm, unit };
}
