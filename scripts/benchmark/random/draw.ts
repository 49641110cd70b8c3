import type { SeededRandom } from '../../../test/support/photo-painter/seeded-random.js';

/** Draws of everyday kinds from one seeded generator. */
export interface Draw extends SeededRandom {
  pick<T>(choices: readonly T[]): T;
  chance(probability: number): boolean;
  /** Whole numbers from low to high, both included. */
  whole(low: number, high: number): number;
  sign(): 1 | -1;
  /** Even on a logarithmic scale. */
  scaled(low: number, high: number): number;
  shuffled<T>(list: readonly T[]): T[];
}

export function drawFrom(random: SeededRandom): Draw {
  const { uniform, between } = random;
  const whole = (low: number, high: number) => low + Math.floor(uniform() * (high - low + 1));
  return {
    ...random,
    pick: (choices) => choices[Math.floor(uniform() * choices.length)],
    chance: (probability) => uniform() < probability,
    whole,
    sign: () => (uniform() < 0.5 ? -1 : 1),
    scaled: (low, high) => Math.exp(between(Math.log(low), Math.log(high))),
    shuffled: (list) => {
      const out = [...list];
      for (let i = out.length - 1; i > 0; i--) {
        const j = whole(0, i);
        [out[i], out[j]] = [out[j], out[i]];
      }
      return out;
    },
  };
}

export const tenth = (mm: number): number => Math.round(mm * 10) / 10;
