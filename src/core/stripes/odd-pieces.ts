import { cie76 } from '../colour/cie76.js';
import type { Lab } from '../colour/lab.js';

/** Odd cells that hang together, or several such pieces of one thing. Bands by their segment. */
export interface OddPiece {
  readonly labels: readonly number[];
  readonly cells: number;
  /** First and last band that it reaches, and the rows it takes there. */
  readonly first: number;
  readonly last: number;
  readonly rowsFirst: readonly [number, number];
  readonly rowsLast: readonly [number, number];
  /** It reaches the end of what is seen along the stripes. */
  readonly atRim: boolean;
  /** Length over width. */
  readonly long: number;
  readonly lab: Lab;
}

/** A thing is not told from a band of nearly its colour (CIE76), and its pieces on either side have one colour. */
const LIKE_BAND = 24;
const LIKE_PIECE = 16;
/** Pieces of one thing leave and meet the band between them over common rows: this part of the fewer. */
const COMMON_ROWS = 0.5;
/** Specks are no pieces. */
const FEWEST_CELLS = 12;

/** Pieces joined where a thing crosses a band of its own colour, the largest first. */
export function joinAcrossBands(pieces: readonly OddPiece[], labOf: (segment: number) => Lab): OddPiece[] {
  const groups = pieces.filter(({ cells }) => cells >= FEWEST_CELLS).sort((p, q) => p.first - q.first);
  for (let joined = true; joined; ) {
    joined = false;
    for (let i = 0; i < groups.length && !joined; i++) {
      for (let j = 0; j < groups.length && !joined; j++) {
        if (i === j || !goesOn(groups[i], groups[j], labOf)) continue;
        groups[i] = together(groups[i], groups[j]);
        groups.splice(j, 1);
        joined = true;
      }
    }
  }
  return groups.sort((p, q) => q.cells - p.cells);
}

/** Whether q begins beyond one band of their colour where p ends. */
function goesOn(p: OddPiece, q: OddPiece, labOf: (segment: number) => Lab): boolean {
  if (q.first !== p.last + 2 || cie76(p.lab, q.lab) > LIKE_PIECE) return false;
  const between = labOf(p.last + 1);
  if (cie76(p.lab, between) > LIKE_BAND && cie76(q.lab, between) > LIKE_BAND) return false;
  const low = Math.max(p.rowsLast[0], q.rowsFirst[0]);
  const high = Math.min(p.rowsLast[1], q.rowsFirst[1]);
  const fewer = Math.min(p.rowsLast[1] - p.rowsLast[0], q.rowsFirst[1] - q.rowsFirst[0]) + 1;
  return high - low + 1 > COMMON_ROWS * fewer;
}

function together(p: OddPiece, q: OddPiece): OddPiece {
  const cells = p.cells + q.cells;
  const mean = (c: number): number => (p.lab[c] * p.cells + q.lab[c] * q.cells) / cells;
  return {
    labels: [...p.labels, ...q.labels],
    cells,
    first: p.first,
    last: q.last,
    rowsFirst: p.rowsFirst,
    rowsLast: q.rowsLast,
    atRim: p.atRim || q.atRim,
    long: p.long + q.long,
    lab: [mean(0), mean(1), mean(2)],
  };
}
