import { signedLengthMm } from '../../base/length.js';
import type { Point } from '../../math/matrix3.js';
import type { Copy, Piece, PiecesFile, StripesWish } from './pieces-file.js';

/** A value that the schema has passed, as it stood in the file. */
export type RawPieces = Omit<PiecesFile, 'pieces'> & { readonly pieces: readonly RawPiece[] };

type RawLength = number | string;
type RawPoint = readonly [RawLength, RawLength];

interface RawPiece
  extends Partial<Omit<Piece, 'stitching' | 'cutting' | 'allowance_mm' | 'grain' | 'points'>> {
  readonly id: string;
  readonly stitching: readonly RawPoint[];
  readonly cutting?: readonly RawPoint[] | null;
  readonly allowance_mm?: RawLength | null;
  readonly grain: readonly [RawPoint, RawPoint];
  readonly points?: Readonly<Record<string, RawPoint>>;
}

/** Lengths as numbers of mm, what may be left out filled in, closing points dropped. Other fields stay as they are. */
export const completePieces = (raw: RawPieces): PiecesFile => ({
  ...raw,
  pieces: raw.pieces.map(completePiece),
});

function completePiece(raw: RawPiece): Piece {
  return {
    ...raw,
    name: raw.name ?? raw.id,
    stitching: withoutClosing(raw.stitching.map(pointMm)),
    cutting: raw.cutting == null ? null : withoutClosing(raw.cutting.map(pointMm)),
    allowance_mm: raw.allowance_mm == null ? null : lengthMm(raw.allowance_mm),
    grain: [pointMm(raw.grain[0]), pointMm(raw.grain[1])],
    stripes: { to: raw.stripes?.to ?? 'grain', angle_deg: raw.stripes?.angle_deg ?? 0 } satisfies StripesWish,
    points: Object.fromEntries(Object.entries(raw.points ?? {}).map(([id, at]) => [id, pointMm(at)])),
    seams: raw.seams ?? [],
    fold: raw.fold ?? null,
    copies: (raw.copies ?? [{ id: raw.id, mirrored: false }]).map(
      (copy): Copy => ({ ...copy, mirrored: copy.mirrored ?? false }),
    ),
  };
}

/** The schema has passed it, so a text is a length. */
const lengthMm = (value: RawLength): number =>
  typeof value === 'number' ? value : (signedLengthMm(value) as number);

const pointMm = ([x, y]: RawPoint): Point => [lengthMm(x), lengthMm(y)];

/** Points nearer than this are one: a thousandth of what is still a point on the line, mm. */
const SAME_POINT_MM = 5e-5;

/** Points that repeat the one before, and the first one repeated at the end, say nothing of the shape. */
export function withoutClosing(points: readonly Point[]): Point[] {
  const same = (p: Point, q: Point): boolean => Math.hypot(p[0] - q[0], p[1] - q[1]) < SAME_POINT_MM;
  const kept = points.filter((p, i) => i === 0 || !same(p, points[i - 1]));
  while (kept.length > 1 && same(kept[0], kept[kept.length - 1])) kept.pop();
  return kept;
}
