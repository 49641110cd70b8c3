import { shapeFault } from '../geometry/check-shape.js';
import type { Piece } from './pieces-file.js';

/**
 * What no schema can say: ids given once, seams between points that the piece has and that lie on its line, outlines closed and simple,
 * a straight fold. One clause that names the piece and the place, or null where all is well.
 */
export function checkPieces(pieces: readonly Piece[]): string | null {
  const twice = firstTwice(pieces.map((piece) => piece.id));
  if (twice !== null) return `two pieces have the id "${twice}"`;
  for (const piece of pieces) {
    const fault = namesFault(piece) ?? shapeFault(piece);
    if (fault !== null) return `piece "${piece.id}": ${fault}`;
  }
  const copy = firstTwice(pieces.flatMap((piece) => piece.copies.map((one) => one.id)));
  return copy === null
    ? null
    : `two copies have the id "${copy}", expected another for every copy of every piece`;
}

function namesFault({ seams, points, stripes, fold, notches = [] }: Piece): string | null {
  const ids = seams.map((seam) => seam.id);
  const twice = firstTwice(ids);
  if (twice !== null) return `two seams have the id "${twice}"`;
  if (ids.includes('grain'))
    return 'a seam has the id "grain", which stands for the grain line: name it otherwise';
  for (const seam of seams) {
    const missing = [seam.from, seam.to].find((end) => !Object.hasOwn(points, end));
    if (missing !== undefined)
      return `seam "${seam.id}" ends at the point "${missing}", which the piece has not`;
  }
  if (stripes.to !== 'grain' && !ids.includes(stripes.to)) {
    return `stripes run to the seam "${stripes.to}", which the piece has not`;
  }
  if (fold !== null && !ids.includes(fold)) return `the fold is the seam "${fold}", which the piece has not`;
  const notch = notches.find((id) => !Object.hasOwn(points, id));
  return notch === undefined ? null : `the notch "${notch}" is no point of the piece`;
}

function firstTwice(ids: readonly string[]): string | null {
  return ids.find((id, i) => ids.indexOf(id) !== i) ?? null;
}
