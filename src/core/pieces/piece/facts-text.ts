import { formatPlainNumber } from '../../base/length.js';
import type { Copy, Piece, StripesWish } from './pieces-file.js';

/**
 * What lines cannot say of a piece, as one line of text each, so that a person can read and change it in a drawing program:
 *
 *     name: Half front
 *     allowance: 15 mm
 *     copies: front left, front right mirrored
 *     copies: 2
 *     copies: 1, 1 mirrored
 *     stripes: along seam centre, turned 30 degrees
 *     seam side: hem to underarm
 *     fold: centre
 *     notches: n1, n2
 *
 * A seam that is only written runs the shorter way between its points, or ", the long way".
 * A name with a comma, a quote or a word of the line in it stands in double quotes.
 */
export interface Facts {
  readonly name?: string;
  /** As typed, with its unit. */
  readonly allowance?: string;
  readonly copies?: readonly Copy[];
  readonly stripes?: StripesWish;
  readonly seams?: readonly WrittenSeam[];
  readonly fold?: string;
  readonly notches?: readonly string[];
}

/** A seam between two points, along the shorter part of the stitching line unless it is the long one. */
export interface WrittenSeam {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly long: boolean;
}

const NAME = '("(?:[^"\\\\]|\\\\.)*"|[^",]+?)';

/** The facts of one piece as lines; those that only say what is so anyway are left out. */
export function factLines(piece: Piece): string[] {
  const { id, name, allowance_mm, copies, stripes } = piece;
  const lines = name === id ? [] : [`name: ${name}`];
  if (allowance_mm !== null) lines.push(`allowance: ${formatPlainNumber(allowance_mm, 4)} mm`);
  if (copies.length !== 1 || copies[0].id !== id || copies[0].mirrored) {
    lines.push(
      `copies: ${copies.map((copy) => quoted(copy.id) + (copy.mirrored ? ' mirrored' : '')).join(', ')}`,
    );
  }
  if (stripes.to !== 'grain' || stripes.angle_deg !== 0) {
    const along = stripes.to === 'grain' ? 'the grain' : `seam ${quoted(stripes.to)}`;
    lines.push(`stripes: along ${along}, turned ${stripes.angle_deg} degrees`);
  }
  return lines;
}

/** "seam side: hem to underarm", or "seam side: hem to underarm, the long way". */
export const writtenSeamLine = ({ id, from, to, long }: WrittenSeam): string =>
  `seam ${quoted(id)}: ${quoted(from)} to ${quoted(to)}${long ? ', the long way' : ''}`;

/** Reads one line into the facts; null when it is none of these, and a text that says what is wrong with it when it is half of one. */
export function readFact(line: string, facts: Facts): Facts | string | null {
  const seam = new RegExp(`^seam ${NAME}\\s*:\\s*${NAME} to ${NAME}(,\\s*the long way)?$`, 'i').exec(line);
  if (seam !== null) {
    const [id, from, to] = seam.slice(1, 4).map(unquoted);
    return { ...facts, seams: [...(facts.seams ?? []), { id, from, to, long: seam[4] !== undefined }] };
  }
  const parts = /^(name|allowance|copies|stripes|fold|notches)\s*:\s*(.+)$/i.exec(line);
  if (parts === null) return null;
  const value = parts[2].trim();
  switch (parts[1].toLowerCase()) {
    case 'name':
      return { ...facts, name: value };
    case 'allowance':
      return { ...facts, allowance: value };
    case 'fold':
      return { ...facts, fold: unquoted(value) };
    case 'notches':
      return { ...facts, notches: listed(value).map(unquoted) };
    case 'copies':
      return { ...facts, copies: listed(value).map(copyOf) };
    default: {
      const stripes = stripesOf(value);
      return stripes === null
        ? `"${line}" is not understood, expected such as "stripes: along the grain, turned 30 degrees" or "stripes: along seam centre"`
        : { ...facts, stripes };
    }
  }
}

/** Split at commas outside quotes. */
const listed = (text: string): string[] =>
  (text.match(/(?:"(?:[^"\\]|\\.)*"|[^,])+/g) ?? []).map((part) => part.trim()).filter((part) => part !== '');

function copyOf(text: string): Copy {
  const parts = /^("(?:[^"\\]|\\.)*"|.+?)(\s+\(?mirrored\)?)?$/i.exec(text) as RegExpExecArray;
  return { id: unquoted(parts[1]), mirrored: parts[2] !== undefined };
}

function stripesOf(text: string): StripesWish | null {
  const parts =
    /^(?:along\s+)?(?:(?:the\s+)?(grain)|seam\s+("(?:[^"\\]|\\.)*"|.+?))(?:,?\s+turned\s+([-−]?[\d.]+)\s*(?:degrees?|deg|°))?$/i.exec(
      text,
    );
  if (parts === null) return null;
  const angle = Number((parts[3] ?? '0').replace('−', '-'));
  return Number.isFinite(angle)
    ? { to: parts[2] === undefined ? 'grain' : unquoted(parts[2]), angle_deg: angle }
    : null;
}

/** In quotes where it would be read wrongly without. */
const quoted = (name: string): string =>
  /[",:\\]|^\s|\s$|\s\s| to |mirrored|turned/i.test(name) ? JSON.stringify(name) : name;

function unquoted(text: string): string {
  const trimmed = text.trim();
  if (!/^".*"$/.test(trimmed)) return trimmed;
  try {
    return String(JSON.parse(trimmed));
  } catch {
    return trimmed.slice(1, -1);
  }
}
