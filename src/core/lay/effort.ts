import type { Spend } from './fit/separate.js';

/** How long and from where to look. */
export interface LaySettings {
  /** Rounds of the search: more find less cloth. The same number finds the same lay. */
  readonly rounds: number;
  /** Where chance starts. */
  readonly seed: number;
  /** Part of the time that may be spent which has been, 0 to 1; where it is given rounds are not counted, and the lay depends on the machine. */
  readonly spentPart?: (() => number) | undefined;
  /** True: no more work, the best so far will do. */
  readonly isOver?: () => boolean;
  /** Waited for once a round, so that others get their turn. */
  readonly pause?: () => Promise<void>;
  /** Also tell what the pieces take of new cloth of these widths, and with these repeats across; the cloth's own where none are named. */
  readonly widthsMm?: readonly number[];
  readonly repeatsMm?: readonly number[];
  /** Told what is being looked for. */
  readonly tell?: (words: string) => void;
}

/** A second or two for a garment of a dozen pieces. */
export const DEFAULT_LAY: LaySettings = { rounds: 6000, seed: 1 };

/** A share of all the work, to be spent on one task: that between two parts of it. */
export function shareOf({ rounds, spentPart, isOver, pause }: LaySettings, from: number, to: number): Spend {
  let left = Math.ceil(rounds * (to - from));
  return async () => {
    if (pause !== undefined) await pause();
    if (isOver?.()) return false;
    return spentPart === undefined ? left-- > 0 : spentPart() < to;
  };
}
