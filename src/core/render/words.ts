import { formatLength, type LengthUnit } from '../base/length.js';
import type { Lay } from '../seam/lay.js';

/** In words that can follow "right half". */
export const LAY_WORDS: Readonly<Record<Lay, string>> = {
  'same-way': 'laid the same way up as the left',
  'head-to-tail': 'turned head to tail',
  'wrong-side': 'the same way up, wrong side showing',
  'run-on': 'laid like the left, stripes run on',
};

export const degrees = (deg: number): string => `${+deg.toFixed(2)}°`;

/** A length somebody chose, without decimals it was not given: 400 mm, not 400.0 mm. */
export const formatGiven = (lengthMm: number, unit: LengthUnit): string =>
  formatLength(lengthMm, unit)
    .replace(/(\.\d*?)0+(?= )/, '$1')
    .replace(/\.(?= )/, '');
