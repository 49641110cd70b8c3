import type { CopyShape } from './copy-shape.js';

/** A way of laying a copy, but for its place: the signs of `LaidCopy`. */
export interface LayOption {
  readonly across: 1 | -1;
  readonly along: 1 | -1;
  readonly face: 'right' | 'wrong';
  /** The head of the grain line points against v; one that lies square to v, against u. */
  readonly turned: boolean;
}

/** A head this near to square to an axis (0.01 degrees) is judged by the other one. */
const SQUARE = Math.sin((0.01 * Math.PI) / 180);

/** Which way the head of the grain points along the axis, or along the other where it is square to that. */
export function headAlong(
  { grain }: CopyShape,
  option: Pick<LayOption, 'across' | 'along'>,
  axis: 'across' | 'along',
): 1 | -1 {
  const across = option.across * grain[0];
  const along = option.along * grain[1];
  const [asked, other] = axis === 'along' ? [along, across] : [across, along];
  return (Math.abs(asked) > SQUARE ? asked : other) < 0 ? -1 : 1;
}

/**
 * The ways a copy may be laid: the stripes wanted on it run along v, either way; on the right side of the cloth, and on the wrong side
 * where it may show. Right side first, then head along v first. head: the side of the nap that all heads must point to; null on two-way cloth.
 */
export function layOptions(
  shape: CopyShape,
  cloth: { readonly wrongSide: boolean; readonly nap: 'along' | 'across' },
  head: 1 | -1 | null,
): LayOption[] {
  const options: LayOption[] = [];
  for (const face of ['right', 'wrong'] as const) {
    if (face === 'wrong' && !cloth.wrongSide) continue;
    for (const along of [1, -1] as const) {
      const mirrors = shape.mirrored === (face === 'right');
      const option = { across: (mirrors ? -along : along) as 1 | -1, along };
      if (head !== null && headAlong(shape, option, cloth.nap) !== head) continue;
      options.push({ ...option, face, turned: headAlong(shape, option, 'along') < 0 });
    }
  }
  return options.sort(
    (a, b) => Number(a.face === 'wrong') - Number(b.face === 'wrong') || Number(a.turned) - Number(b.turned),
  );
}
