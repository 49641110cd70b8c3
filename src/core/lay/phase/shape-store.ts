import type { Point } from '../../math/matrix3.js';
import { extentOf, type Outline, signedAreaMm2 } from '../../pieces/geometry/outline.js';
import type { Transform } from '../../place/answer/placement.js';
import type { FitShape } from '../fit/fit-problem.js';
import { type NoFitOf, noFitStore } from '../nofit/no-fit-store.js';
import { type Ring, ringOf } from '../nofit/ring.js';
import { grownOutline } from './grown-outline.js';
import { imageOf } from './motion.js';

/** Outlines as they are fitted, each way round made once for all lays of the same pieces. */
export interface ShapeStore {
  /** The outline turned by a transform's linear part; swaps: x and y then change places. */
  readonly shapeOf: (cutting: Outline, transform: Transform, swaps: boolean) => FitShape;
  /** What may not be overlapped for a reason other than a piece. */
  readonly blockOf: (outline: Outline) => Ring;
  readonly noFitOf: NoFitOf;
}

/** marginMm: least distance between outlines. */
export function shapeStore(marginMm: number): ShapeStore {
  const known = new Map<Outline, Map<string, FitShape>>();
  return {
    noFitOf: noFitStore(),
    blockOf: (outline) => ringOf(grownOutline(outline, marginMm)),
    shapeOf: (cutting, [a, b, c, d], swaps) => {
      const key = `${[a, b, c, d].map((part) => (part + 0).toFixed(9)).join(' ')} ${swaps}`;
      const own = known.get(cutting) ?? new Map<string, FitShape>();
      known.set(cutting, own);
      const found = own.get(key);
      if (found !== undefined) return found;
      const turned = cutting.map((at): Point => {
        const [x, y] = imageOf([a, b, c, d, 0, 0], at);
        return swaps ? [y, x] : [x, y];
      });
      const shape = {
        ring: ringOf(grownOutline(turned, marginMm)),
        extent: extentOf(turned),
        areaMm2: Math.abs(signedAreaMm2(turned)),
      };
      own.set(key, shape);
      return shape;
    },
  };
}
