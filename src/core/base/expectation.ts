import { shown } from './complaint.js';
import { UsageError } from './outcome.js';

/** What a value must be to be meant: the checks at the doors are made of these, and so speak alike. */
export interface Expectation {
  /** In words, after "expected": "a number above 0". */
  readonly expected: string;
  /** The first thing wrong with a value or within it; null when it can be meant. */
  readonly problem: (value: unknown, parameter: string) => Problem | null;
}

export interface Problem {
  /** Where: "request.angles[1][0]". */
  readonly parameter: string;
  readonly expected: string;
  readonly received: unknown;
}

/** Throws UsageError with the parameter, what was expected and what was received, unless the value can be meant. */
export function check(value: unknown, parameter: string, expectation: Expectation): void {
  const problem = expectation.problem(value, parameter);
  if (problem === null) return;
  throw new UsageError(
    `expected ${problem.expected}, received ${problem.received === undefined ? 'nothing' : shown(problem.received)}`,
    problem.parameter,
  );
}

/** The same of an object whose fields the caller knows by their own names: `seamMm`, not `request.seamMm`. */
export const checkFields = (value: unknown, parameter: string, expectation: Expectation): void =>
  check(value, parameter, {
    ...expectation,
    problem: (all, whole) => {
      const found = expectation.problem(all, whole);
      return found?.parameter.startsWith(`${whole}.`)
        ? { ...found, parameter: found.parameter.slice(whole.length + 1) }
        : found;
    },
  });

/** Several at once: { name: [value, what it must be] }, the first that is wrong is told. */
export function checkAll(values: Readonly<Record<string, readonly [unknown, Expectation]>>): void {
  for (const [parameter, [value, expectation]] of Object.entries(values))
    check(value, parameter, expectation);
}

/** A value without parts. */
export const plainly = (expected: string, holds: (value: unknown) => boolean): Expectation => ({
  expected,
  problem: (value, parameter) => (holds(value) ? null : { parameter, expected, received: value }),
});

export interface Bounds {
  readonly above?: number;
  readonly least?: number;
  readonly below?: number;
  readonly most?: number;
}

const within = (value: number, { above, least, below, most }: Bounds): boolean =>
  (above === undefined || value > above) &&
  (least === undefined || value >= least) &&
  (below === undefined || value < below) &&
  (most === undefined || value <= most);

function boundWords({ above, least, below, most }: Bounds): string {
  if (least !== undefined && most !== undefined) return ` from ${least} to ${most}`;
  const low = above !== undefined ? ` above ${above}` : least !== undefined ? ` of ${least} or more` : '';
  const high = below !== undefined ? ` below ${below}` : most !== undefined ? ` up to ${most}` : '';
  return low !== '' && high !== '' ? `${low} and${high}` : low + high;
}

/** Finite, within the bounds; `unit` is said after the bounds. */
export const numberWithin = (bounds: Bounds, unit = ''): Expectation =>
  plainly(
    `a number${boundWords(bounds)}${unit === '' ? '' : ` ${unit}`}`,
    (value) => typeof value === 'number' && Number.isFinite(value) && within(value, bounds),
  );

export const finiteNumber: Expectation = numberWithin({});

export const wholeNumber = (bounds: Bounds): Expectation =>
  plainly(
    `a whole number${boundWords(bounds)}`,
    (value) => typeof value === 'number' && Number.isSafeInteger(value) && within(value, bounds),
  );

export const oneOf = (choices: readonly unknown[]): Expectation =>
  plainly(choices.length === 1 ? String(choices[0]) : `one of ${choices.join(', ')}`, (value) =>
    choices.includes(value),
  );

export const text: Expectation = plainly('text', (value) => typeof value === 'string' && value !== '');
export const anyText: Expectation = plainly('text', (value) => typeof value === 'string');
export const textLike = (pattern: RegExp, form: string): Expectation =>
  plainly(form, (value) => typeof value === 'string' && pattern.test(value));
export const yesOrNo: Expectation = plainly('true or false', (value) => typeof value === 'boolean');
export const callback: Expectation = plainly('a function', (value) => typeof value === 'function');
export const bytes: Expectation = plainly('bytes (Uint8Array)', (value) => value instanceof Uint8Array);
/** Whatever it is, it is for others to judge. */
export const anything: Expectation = plainly('anything', () => true);

export const orNull = (inner: Expectation): Expectation => ({
  expected: `${inner.expected}, or null`,
  problem: (value, parameter) => {
    const found = value === null ? null : inner.problem(value, parameter);
    // What is wrong with the whole may be mended by null; what is wrong inside may not.
    return found !== null && found.parameter === parameter
      ? { ...found, expected: `${found.expected}, or null` }
      : found;
  },
});

/** May be left out. */
export const optional = (inner: Expectation): Expectation => ({
  expected: inner.expected,
  problem: (value, parameter) => (value === undefined ? null : inner.problem(value, parameter)),
});

export const eitherOf = (one: Expectation, other: Expectation): Expectation => ({
  expected: `${one.expected} or ${other.expected}`,
  problem: (value, parameter) =>
    one.problem(value, parameter) === null ? null : other.problem(value, parameter),
});

/** `named`: what it is a list of, in words. */
export function listOf(item: Expectation, bounds: Bounds = {}, named = ''): Expectation {
  const { least, most } = bounds;
  const count = least !== undefined && least === most ? String(least) : boundWords(bounds).trim();
  const expected = `a list${count === '' ? '' : ` of ${count.replace(/^of /, '')}`}${named === '' ? '' : ` ${named}`}`;
  return {
    expected,
    problem: (value, parameter) => {
      if (!Array.isArray(value) || !within(value.length, bounds))
        return { parameter, expected, received: value };
      for (let k = 0; k < value.length; k++) {
        const found = item.problem(value[k], `${parameter}[${k}]`);
        if (found !== null) return found;
      }
      return null;
    },
  };
}

/** An object with these fields; others are allowed. `named`: what it is, in words. */
export function record(fields: Readonly<Record<string, Expectation>>, named = 'an object'): Expectation {
  const entries = Object.entries(fields);
  return {
    expected: named,
    problem: (value, parameter) => {
      if (typeof value !== 'object' || value === null || Array.isArray(value))
        return { parameter, expected: named, received: value };
      for (const [name, expectation] of entries) {
        const found = expectation.problem(
          (value as Record<string, unknown>)[name],
          parameter === '' ? name : `${parameter}.${name}`,
        );
        if (found !== null) return found;
      }
      return null;
    },
  };
}
