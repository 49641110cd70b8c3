import { anyText, check, optional, record, yesOrNo } from '../base/expectation.js';
import { parseLengthMm } from '../base/length.js';
import { UsageError } from '../base/outcome.js';
import { LAYS } from '../seam/lay.js';
import { parseAngles } from '../seam/seam-request.js';
import { type ChevronRequest, DEFAULT_CHEVRON } from './preview-seam.js';

/** What a person typed, as typed; absent when not given. */
export interface ChevronWords {
  /** `30,45,60` or `45/38` */
  readonly angles?: string;
  /** `b3`, `ochre` or a list of such */
  readonly centre?: string;
  /** Lengths with their unit; shift may be negative, and 0 needs no unit. */
  readonly at?: string;
  readonly seam?: string;
  readonly shift?: string;
  readonly allowance?: string;
  readonly lay?: string;
  readonly anyway?: boolean;
  readonly inverted?: boolean;
  readonly clear?: string;
  readonly handling?: string;
  readonly visible?: string;
  readonly agreeAt?: string;
}

const asTyped = optional(anyText);
const asked = optional(yesOrNo);
const WORDS = record({
  angles: asTyped,
  centre: asTyped,
  at: asTyped,
  seam: asTyped,
  shift: asTyped,
  allowance: asTyped,
  lay: asTyped,
  clear: asTyped,
  handling: asTyped,
  visible: asTyped,
  agreeAt: asTyped,
  anyway: asked,
  inverted: asked,
});

/** Reads what was typed into one request. Throws UsageError, naming the parameter, when a value makes no sense. */
export function parseChevronRequest(words: ChevronWords): ChevronRequest {
  check(words, 'words', WORDS);
  const lay = LAYS.find((one) => one === words.lay);
  if (words.lay !== undefined && lay === undefined) {
    throw new UsageError(`expected ${LAYS.join(', ')}, received "${words.lay}"`, 'lay');
  }
  return {
    angles: words.angles === undefined ? DEFAULT_CHEVRON.angles : parseAngles(words.angles),
    centres: words.centre === undefined ? null : words.centre.split(','),
    seamMm: words.seam === undefined ? DEFAULT_CHEVRON.seamMm : signedLengthMm(words.seam, 'seam'),
    atMm: words.at === undefined ? null : signedLengthMm(words.at, 'at'),
    shiftMm: words.shift === undefined ? 0 : signedLengthMm(words.shift, 'shift'),
    allowanceMm:
      words.allowance === undefined
        ? DEFAULT_CHEVRON.allowanceMm
        : signedLengthMm(words.allowance, 'allowance'),
    point: words.inverted === true ? 'up' : 'down',
    lay: lay ?? null,
    anyway: words.anyway === true,
    clearMm: words.clear === undefined ? null : signedLengthMm(words.clear, 'clear'),
    handlingMm:
      words.handling === undefined ? DEFAULT_CHEVRON.handlingMm : signedLengthMm(words.handling, 'handling'),
    visibleMm:
      words.visible === undefined ? DEFAULT_CHEVRON.visibleMm : signedLengthMm(words.visible, 'visible'),
    agreeAtMm: words.agreeAt === undefined ? null : signedLengthMm(words.agreeAt, 'agreeAt'),
  };
}

/** A length that may be nought or less; where that makes no sense the seam itself says so. */
function signedLengthMm(text: string, parameter: string): number {
  const [, sign, rest] = /^\s*([+-]?)\s*(.*)$/s.exec(text) as RegExpExecArray;
  if (/^0+(\.0*)?\s*(mm|cm|m|in|inch|inches)?\s*$/i.test(rest)) return 0;
  return (sign === '-' ? -1 : 1) * parseLengthMm(rest, parameter);
}
