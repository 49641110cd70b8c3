import type { BatchSetting } from '../../node.js';
import type { MeasureWords } from '../measure-one.js';
import { optionOf } from '../option-words.js';
import type { BatchWords } from './batch-words.js';

type Options = BatchSetting['options'];

/** Each of these says where the scale comes from ... */
const SCALES = ['ruler', 'points', 'sheet', 'density'];
/** ... and these belong to one of them. */
const OF_SCALES = [...SCALES, 'corners', 'rulerClass'];

/** Options that change what is measured or written, as typed; the others may differ between runs. */
export function lastingOptions(words: BatchWords): Options {
  const { out, shard, json, quiet, jobs, memory, ...options } = words;
  return options;
}

/**
 * What one photo is measured with: the options of all, and its own over them. A photo that says itself where its scale comes from takes
 * nothing of the others' scale, since two ways at once cannot be meant.
 */
export function optionsOf(all: Options, own: Options | null): Options & MeasureWords {
  const bringsScale = own !== null && SCALES.some((name) => own[name] !== undefined);
  const kept = Object.entries(all).filter(([name]) => !(bringsScale && OF_SCALES.includes(name)));
  return { units: 'mm', ...Object.fromEntries(kept), ...own };
}

/** As they would be typed: "--region 400,300,2000,1500". */
export const typedOptions = (own: Options): string =>
  Object.entries(own)
    .map(([name, value]) => `${optionOf(name)} ${/\s/.test(String(value)) ? `"${value}"` : value}`)
    .join(' ');
