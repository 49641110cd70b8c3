/**
 * Why a photo or a plan could not be used. A refusal is a result, not an exception: it cannot be mistaken
 * for a measurement, and it always says what to do next.
 */
export interface Refusal {
  /** Stable machine-readable reason. */
  readonly reason: RefusalReason;
  /** What was found and what was expected: one clause, no full stop. */
  readonly found: string;
  /** What to do next: one clause, no full stop. */
  readonly remedy: string;
}

export type RefusalReason = 'unreadable' | 'no-scale' | 'no-stripes' | 'too-blurred' | 'too-dark';

/** Either a value or a stated reason why there is none. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly refusal: Refusal };

export const succeed = <T>(value: T): Outcome<T> => ({ ok: true, value });

export const refuse = (reason: RefusalReason, found: string, remedy: string): Outcome<never> => ({
  ok: false,
  refusal: { reason, found, remedy },
});

/** The one line a person reads: "No ruler found: lay one flat …". */
export const refusalLine = (refusal: Refusal): string => `${refusal.found}: ${refusal.remedy}`;

/** Misuse by the caller (a wrong option, an impossible value). Thrown, never returned. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}
