import type { LaidCopy } from '../shape/copy-shape.js';

/** What a wish asks of the copies it names: how far it is missed when they lie so. */
export interface Measure {
  /** Indices of the copies it depends on, each once. */
  readonly copies: readonly number[];
  /** The miss (mm, or a share of 0 .. 1) for one lay of each of those copies, in their order. */
  readonly miss: (lays: readonly LaidCopy[]) => number;
  /** Whether it depends on the places along the stripes as well. */
  readonly asksAlong: boolean;
  /** Whether it depends on the places across them. */
  readonly asksAcross: boolean;
  /** How far each of its copies moves across the stripes, in proportion, for what meets to go on meeting; not said where equal moves do. */
  readonly together?: readonly number[];
}

/**
 * What a lay gives rise to, made once for each lay: searches ask the same few hundred lays of a copy in every combination with those
 * of its neighbours.
 */
export function once<T>(make: (lay: LaidCopy) => T): (lay: LaidCopy) => T {
  const made = new WeakMap<LaidCopy, T>();
  return (lay) => {
    let one = made.get(lay);
    if (one === undefined) {
      one = make(lay);
      made.set(lay, one);
    }
    return one;
  };
}
