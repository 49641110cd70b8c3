import type { Setting } from './setting.js';

/**
 * Why a photo or a plan could not be used. A refusal is a result, not an exception: it cannot be mistaken
 * for a measurement, and it always says what to do next.
 */
export interface Refusal {
  /** Stable machine-readable reason. */
  readonly reason: RefusalReason;
  /** What was found and what was expected: one clause, no full stop. */
  readonly found: string;
  /** What to do next: one clause, no full stop. Plain words: it names nothing by how it is set. */
  readonly remedy: string;
  /** What the remedy speaks of that can be set; absent when nothing. */
  readonly settings?: readonly Setting[];
}

export type RefusalReason =
  | 'unreadable'
  | 'no-scale'
  | 'no-stripes'
  | 'too-blurred'
  | 'too-dark'
  | 'no-paper'
  | 'cut-off'
  | 'touching'
  | 'no-placing';

/** Either a value or a stated reason why there is none. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly refusal: Refusal };

export const succeed = <T>(value: T): Outcome<T> => ({ ok: true, value });

export const refuse = (
  reason: RefusalReason,
  found: string,
  remedy: string,
  settings: readonly Setting[] = [],
): Outcome<never> => {
  const refusal = { reason, found, remedy, ...(settings.length === 0 ? {} : { settings }) };
  checkRefusal(refusal);
  return { ok: false, refusal };
};

/** The one line a person reads: "No ruler found: lay one flat …". */
export function refusalLine(refusal: Refusal): string {
  checkRefusal(refusal);
  return `${refusal.found}: ${refusal.remedy}`;
}

function checkRefusal(refusal: Refusal): void {
  for (const part of ['reason', 'found', 'remedy'] as const) {
    const received: unknown = refusal?.[part];
    if (typeof received !== 'string' || received === '') {
      throw new UsageError(
        `expected text, received ${received === '' ? '""' : typeof received}`,
        `refusal.${part}`,
      );
    }
  }
}

/**
 * Misuse by the caller: a value that cannot be meant. Thrown, never returned. Its message is "points: expected ..., received ...":
 * the parameter, then the complaint.
 */
export class UsageError extends Error {
  override readonly name = 'UsageError';

  /**
   * @param complaint what was expected and what was received; one clause, no full stop
   * @param parameter the parameter that is wrong, as the caller knows it; null when it is not one of them
   * @param settings what else the complaint speaks of that can be set
   */
  constructor(
    complaint: string,
    readonly parameter: string | null = null,
    readonly settings: readonly Setting[] = [],
  ) {
    super(parameter === null ? complaint : `${parameter}: ${complaint}`);
  }
}
