import type { MeasureWords } from '../measure-one.js';
import type { ProcessWords } from './process-count.js';

/** What was asked for, as typed. */
export interface BatchWords extends MeasureWords, ProcessWords {
  readonly out?: string;
  readonly shard?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}
