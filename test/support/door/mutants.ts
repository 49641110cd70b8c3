/** A value changed in one place: where, and the whole with the change. */
export interface Mutant {
  readonly what: string;
  readonly value: unknown;
}

const isPlain = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !ArrayBuffer.isView(value) && !(value instanceof Promise);

/** What nobody can mean, whatever is asked for; `word` stands for text that is no name. */
const junk = (word: string): readonly unknown[] => [
  undefined,
  null,
  Number.NaN,
  Number.POSITIVE_INFINITY,
  -1e9,
  0,
  '',
  word,
  [],
  {},
];

/** The value with each part of it, down to a depth, replaced by each piece of junk; of a long list the first and last item. */
export function mutantsOf(value: unknown, depth: number, word: string, path = ''): Mutant[] {
  const here = junk(word).map(
    (one): Mutant => ({ what: `${path || 'itself'} = ${describe(one)}`, value: one }),
  );
  if (depth === 0 || !isPlain(value)) return here;
  const keys = Array.isArray(value)
    ? [...new Set([0, value.length - 1])].filter((k) => k >= 0).map(String)
    : Object.keys(value);
  const inside = keys.flatMap((key) =>
    mutantsOf((value as Record<string, unknown>)[key], depth - 1, word, `${path}.${key}`).map(
      (one): Mutant => {
        const whole: Record<string, unknown> = (Array.isArray(value) ? [...value] : { ...value }) as Record<
          string,
          unknown
        >;
        whole[key] = one.value;
        return { what: one.what, value: whole };
      },
    ),
  );
  return [...here, ...inside];
}

const describe = (one: unknown): string =>
  typeof one === 'object' && one !== null
    ? JSON.stringify(one)
    : typeof one === 'string'
      ? `"${one}"`
      : String(one);

/** Where a result holds what is no number, or words made of one; null when nowhere. Pixels are left out. */
export function nonsenseIn(value: unknown, path = 'result'): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path} is ${value}`;
  if (typeof value === 'string')
    return /\bNaN\b|Infinity|\bundefined\b/.test(value) ? `${path} says ${value.slice(0, 80)}` : null;
  // A refusal may name what it refuses.
  if (!isPlain(value) || value.ok === false) return null;
  for (const [key, part] of Object.entries(value)) {
    const found = nonsenseIn(part, `${path}.${key}`);
    if (found !== null) return found;
  }
  return null;
}
