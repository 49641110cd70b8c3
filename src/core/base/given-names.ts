import { UsageError } from './outcome.js';

/** A name that a person gives to one of the cloth's colours. */
export interface GivenName {
  readonly name: string;
  /** Which colour it is for, by its id (A is the one that covers most of the cloth); null: the one it means. */
  readonly colour: string | null;
}

const LONGEST = 30;
const NAME = /^\p{L}[^=,<>"]+$/u;
/** Bands are called so: a colour of that name could not be told from one. */
const BAND_ID = /^[a-z]\d+$/i;

/** Reads `ochre,indigo,ivory` or `A=indigo,C=ochre`. Throws UsageError where something is no name, or is given twice. */
export function parseGivenNames(text: string): GivenName[] {
  const given = text.split(',').map(parseOne);
  for (const part of ['name', 'colour'] as const) {
    const values = given.map((one) => one[part]?.toLowerCase() ?? null);
    const twice = values.findIndex((value, k) => value !== null && values.indexOf(value) < k);
    if (twice >= 0) {
      throw new UsageError(`expected each ${part} once, received "${given[twice][part]}" twice`, 'names');
    }
  }
  return given;
}

function parseOne(text: string): GivenName {
  const [, id, rest] = /^\s*(?:([a-z]{1,2})\s*=)?(.*)$/is.exec(text) as RegExpExecArray;
  const name = rest.trim().replace(/\s+/g, ' ');
  if (!NAME.test(name) || name.length > LONGEST || BAND_ID.test(name)) {
    throw new UsageError(
      `expected names of colours, such as ochre,indigo,ivory, or A=indigo,B=ivory, received "${text.trim()}"`,
      'names',
    );
  }
  return { name, colour: id?.toUpperCase() ?? null };
}
