import type { Lay } from '../seam/lay.js';

/** In words that can follow "right half". */
export const LAY_WORDS: Readonly<Record<Lay, string>> = {
  'same-way': 'laid the same way up as the left',
  'head-to-tail': 'turned head to tail',
  'wrong-side': 'the same way up, wrong side showing',
  'run-on': 'laid like the left, stripes run on',
};
