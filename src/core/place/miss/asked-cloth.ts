import type { BandLine } from '../cloth/band-line.js';
import type { StripesOfCloth } from '../cloth/placing-cloth.js';
import type { CopyShape } from '../shape/copy-shape.js';
import type { MotifBoxes } from './near-motifs.js';

/** One direction of the cloth's stripes as misses are measured on it: the chain, and what its indices stand for. */
export interface AskedStripes {
  readonly line: BandLine;
  readonly stripes: StripesOfCloth;
}

/** All that misses are measured with. */
export interface AskedCloth {
  readonly copies: readonly CopyShape[];
  readonly across: AskedStripes;
  /** The second direction of a check. */
  readonly along: AskedStripes | null;
  readonly motifs: MotifBoxes | null;
}
