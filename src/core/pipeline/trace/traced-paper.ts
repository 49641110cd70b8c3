import type { PaperPlane } from '../../rectify/paper-plane/solve-paper-plane.js';
import type { GrainLine } from '../../trace/marks/grain-line.js';
import type { TracedOutline } from '../../trace/outline/outline-of.js';
import type { PaperScale } from './paper-scale.js';

export interface TracedPaper {
  readonly scale: PaperScale;
  readonly plane: PaperPlane;
  readonly pieces: readonly TracedShape[];
}

export interface TracedShape extends TracedOutline {
  readonly line: 'edge' | 'drawn';
  /** Root mean square distance that the outline may be off, origin and turn left free: tracing, plane and scale. */
  readonly outlineSdMm: number;
  readonly grain: GrainLine | null;
  /** How much of a drawn line is hidden by what lies on it, mm: there it is carried on; 0 where little is. */
  readonly hiddenMm: number;
  /** By how much a dart's point was carried on beyond what can be seen of it, mm; 0 where by little. */
  readonly dartMm: number;
  /** Along how much of the traced edge other things lie against it, mm. */
  readonly coveredMm: number;
  /** Whether lines are drawn inside most of the edge, though none closes: the edge was traced in doubt. */
  readonly isOpen: boolean;
}
