/** What a group or a line of a drawing stands for. */
export type Role =
  | 'piece'
  | 'stitching'
  | 'cutting'
  | 'grain'
  | 'stripes'
  | 'seam'
  | 'fold'
  | 'point'
  | 'notch'
  | 'label'
  | 'from-allowance';

export interface RoleName {
  readonly role: Role;
  /** What follows the role's word; null when nothing does. */
  readonly name: string | null;
  /** A layer of many: "seams", "points", "notches". */
  readonly plural: boolean;
}

const WORDS =
  /^(piece|stitching|cutting|grain|stripes|seams?|fold|points?|notch|notches)(?:[\s_-]*line)?(?:[\s:_-]+(.*))?$/i;

/** Ids that drawing programs give by themselves say nothing. */
const GIVEN_BY_PROGRAM =
  /^(path|line|polyline|polygon|rect|circle|ellipse|g|group|use|text|tspan|layer|svg|object)[\s_-]*[\d_-]*$/i;

/**
 * What an element stands for. First by the name a person sees in the list of layers and objects (inkscape:label, else data-name, where some
 * programs keep a name that is no XML id), then by data-role and data-name, then by its id. `piece`: id of the piece it is in, which an
 * element's id may begin with, since ids must differ within a file.
 */
export function roleNameOf(
  attribute: (name: string) => string | null,
  piece: string | null,
): RoleName | null {
  const role = attribute('data-role');
  const name = attribute('data-name');
  const label = attribute('inkscape:label');
  const exact = role === null ? null : { ...roleOfWord(role), name };
  const seen = label === null ? null : roleOfWords(label);
  if (exact !== null && exact.role !== undefined) {
    // A label changed by hand is what the person meant; the data left behind is older.
    const agrees = seen === null || (seen.role === exact.role && (seen.name ?? '') === (name ?? '').trim());
    if (agrees) return { role: exact.role, name, plural: false };
  }
  if (seen !== null) return seen;
  if (exact === null && name !== null) {
    const named = roleOfWords(name);
    if (named !== null) return named;
  }
  const id = attribute('id');
  if (id === null) return null;
  const plain = decoded(id);
  const own = piece === null ? null : withoutPrefix(plain, piece);
  return (own === null ? null : roleOfWords(own)) ?? roleOfWords(plain);
}

/** The name of an element that stands for nothing by its words, or null when only a program named it. */
export function ownName(attribute: (name: string) => string | null): string | null {
  const name = attribute('inkscape:label') ?? attribute('data-name') ?? attribute('id');
  if (name === null) return null;
  const plain = decoded(name).trim();
  return plain === '' || GIVEN_BY_PROGRAM.test(plain) ? null : plain;
}

function roleOfWord(word: string): { role?: Role } {
  const known: readonly string[] = [
    'piece',
    'stitching',
    'cutting',
    'grain',
    'stripes',
    'seam',
    'fold',
    'point',
    'notch',
    'label',
    'from-allowance',
  ];
  return known.includes(word) ? { role: word as Role } : {};
}

function roleOfWords(words: string): RoleName | null {
  const parts = WORDS.exec(words.trim());
  if (parts === null) return null;
  const word = parts[1].toLowerCase();
  const plural = word === 'seams' || word === 'points' || word === 'notches';
  const role = (word === 'notches' ? 'notch' : plural ? word.slice(0, -1) : word) as Role;
  const name = parts[2]?.trim() || null;
  return { role, name, plural: plural && name === null };
}

function withoutPrefix(id: string, piece: string): string | null {
  const prefix = piece.replace(/[^A-Za-z0-9.-]+/g, '_');
  return id.startsWith(`${prefix}-`) || id.startsWith(`${prefix}_`) || id.startsWith(`${prefix}.`)
    ? id.slice(prefix.length + 1)
    : null;
}

/** Some programs write what no id may hold as _x20_, by its code. */
const decoded = (id: string): string =>
  id.replace(/_x([0-9A-F]{2,4})_/gi, (_, code) => String.fromCharCode(Number.parseInt(code, 16)));
