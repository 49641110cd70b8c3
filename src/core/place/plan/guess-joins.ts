import { signedAreaMm2 } from '../../pieces/geometry/outline.js';
import { seamLengthMm } from '../../pieces/geometry/whole-piece.js';
import type { Copy, Piece, Seam } from '../../pieces/piece/pieces-file.js';

/** Two seams that look as if they were sewn together. */
export interface GuessedJoin {
  readonly id: string;
  readonly left: SeamOfCopy;
  readonly right: SeamOfCopy;
  readonly leftMm: number;
  readonly rightMm: number;
}

interface SeamOfCopy {
  readonly copy: string;
  readonly seam: string;
  readonly reversed?: boolean;
}

/** Seams that differ by less than this part of the longer are eased together; a sleeve's cap has up to a twelfth more than its armhole. Common practice. */
const MOST_EASE = 1 / 12;

/** What pieces have in common and is not sewn together: edges, and openings that something else is set in. The trade's words. */
const NOT_SEWN = ['hem', 'opening', 'edge', 'armhole', 'neck', 'neckline', 'wrist'];

/** Seams that differ by less than this part are as good as of one length: nothing is eased. */
const NEARLY_ONE = 0.02;

interface Side {
  readonly piece: Piece;
  readonly copy: Copy;
  readonly seam: Seam;
  readonly lengthMm: number;
  /** Whether the copy lies to the left of its seam on the way from start to end, seen from the outside. */
  readonly isLeft: boolean;
}

/**
 * Joins guessed from seams of the same name and about the same length. Two copies side by side have their seam between them, so one lies to the
 * left of it and the other to the right. Copies of different pieces are joined, first where their seams are nearly of one length, then where one
 * has to be eased; a seam called centre joins the mirrored copies of one piece. Seams called dart that meet in a point are its legs.
 */
export function guessJoins(pieces: readonly Piece[]): GuessedJoin[] {
  const byName = new Map<string, Side[]>();
  for (const piece of pieces)
    for (const seam of piece.seams)
      if (seam.id !== piece.fold && !NOT_SEWN.includes(seam.id) && !/dart/i.test(seam.id))
        for (const copy of piece.copies) {
          const isLeft = signedAreaMm2(piece.stitching) > 0 !== copy.mirrored;
          const side = { piece, copy, seam, lengthMm: seamLengthMm(piece, seam.id), isLeft };
          byName.set(seam.id, [...(byName.get(seam.id) ?? []), side]);
        }
  const ofTwo = (a: Side, b: Side): boolean => a.piece !== b.piece;
  const ofOne = (a: Side, b: Side): boolean => a.piece === b.piece;
  const nearly = (a: Side, b: Side): boolean =>
    ofTwo(a, b) && Math.abs(a.lengthMm - b.lengthMm) <= NEARLY_ONE * a.lengthMm;
  const joins: GuessedJoin[] = [];
  for (const [name, sides] of byName) {
    const found: [Side, Side][] = [];
    for (const fits of /cent(re|er)/i.test(name) ? [ofOne, ofTwo] : [nearly, ofTwo]) {
      const free = sides.filter((side) => !found.some((pair) => pair.includes(side)));
      found.push(...pairs(free, fits));
    }
    found.forEach(([left, right], k) => {
      joins.push({
        id: found.length === 1 ? name : `${name}-${k + 1}`,
        left: { copy: left.copy.id, seam: name },
        right: { copy: right.copy.id, seam: name },
        leftMm: left.lengthMm,
        rightMm: right.lengthMm,
      });
    });
  }
  return [...joins, ...pieces.flatMap(dartsOf)];
}

/** The legs of each dart, sewn from the mouth to the point. */
function dartsOf(piece: Piece): GuessedJoin[] {
  return piece.seams.flatMap((leg) => {
    const other = piece.seams.find(({ from }) => from === leg.to);
    if (other === undefined || ![leg, other].every(({ id }) => /dart/i.test(id))) return [];
    const [leftMm, rightMm] = [leg, other].map(({ id }) => seamLengthMm(piece, id));
    if (Math.abs(leftMm - rightMm) > NEARLY_ONE * leftMm) return [];
    return piece.copies.map(({ id }) => ({
      id: `${id} ${leg.id}`,
      left: { copy: id, seam: leg.id },
      right: { copy: id, seam: other.id, reversed: true },
      leftMm,
      rightMm,
    }));
  });
}

/** Each side with the first free one that fits, in the order of the pieces. */
function pairs(sides: readonly Side[], fits: (a: Side, b: Side) => boolean): [Side, Side][] {
  const found: [Side, Side][] = [];
  const taken = new Set<Side>();
  for (const one of sides) {
    if (taken.has(one)) continue;
    const other = sides.find(
      (side) =>
        !taken.has(side) &&
        side.isLeft !== one.isLeft &&
        side.copy.id !== one.copy.id &&
        !isBackwards(one.seam, side.seam) &&
        fits(one, side) &&
        Math.abs(side.lengthMm - one.lengthMm) <= MOST_EASE * Math.max(side.lengthMm, one.lengthMm),
    );
    if (other === undefined) continue;
    taken.add(one);
    taken.add(other);
    found.push(one.isLeft ? [one, other] : [other, one]);
  }
  return found;
}

/** Seams that share the names of their ends the wrong way round would be sewn start to end. */
const isBackwards = (one: Seam, other: Seam): boolean =>
  one.from !== one.to && one.from === other.to && one.to === other.from;
