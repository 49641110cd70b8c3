import { nearestName } from './nearest-name.js';

/** Thrown where a plan names what is not there; becomes a refusal at the door of placing. */
export class UnknownName extends Error {
  override readonly name = 'UnknownName';
}

/**
 * The thing of that name. Throws UnknownName with what was asked where, and the nearest name there is, or all of them where none is
 * near and they are few.
 */
export function named<T>(things: ReadonlyMap<string, T>, wanted: string, what: string, where: string): T {
  const found = things.get(wanted);
  if (found !== undefined) return found;
  const known = [...things.keys()];
  const near = nearestName(wanted, known);
  const hint =
    near !== null
      ? `did you mean "${near}"?`
      : known.length === 0
        ? 'there is none at all'
        : `there ${known.length === 1 ? 'is' : 'are'} ${known.slice(0, 12).join(', ')}${known.length > 12 ? ' and more' : ''}`;
  throw new UnknownName(`${where} names the ${what} "${wanted}", which is not known: ${hint}`);
}
