import type { Point } from '../math/matrix3.js';
import type { EdgePoints } from './trace-edges.js';

/** Which band an edge begins, and in which repeat. */
export interface EdgePlace {
  readonly band: number;
  readonly repeat: number;
}

/** A point of the reference: picture px, and mm in the reference's own plane. */
export interface PlaneMark {
  readonly picture: Point;
  readonly planeMm: Point;
}

export interface PlaneRequest {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Focal length in px and how far it may be off (standard deviation of its logarithm; 0 = known). */
  readonly focalPx: number;
  readonly focalLogSd: number;
  /** Rough direction of the stripes (radians, as in StripeFrame) and scale. */
  readonly angle: number;
  readonly pxPerMm: number;
  readonly edges: EdgePoints;
  /** Band (edge class) and repeat number of each edge, or null when no repeat is in view. */
  readonly places: readonly (EdgePlace | null)[] | null;
  /** Reference points, picture px and mm in the reference's own plane. */
  readonly marks: readonly PlaneMark[];
  readonly markSdPx: number;
  /** Of marks on one line: sideways of it. */
  readonly levelSdPx: number;
  /** Points off the marks' line of which only the place along it is known. */
  readonly sideMarks: readonly { readonly picture: Point; readonly alongMm: number }[];
  /** True for a scan: no tilt, no lens. */
  readonly flat: boolean;
}
