import { signedLengthMm } from '../../base/length.js';
import type { Point } from '../../math/matrix3.js';
import { outlineFault, placeWords } from '../geometry/check-shape.js';
import { distanceMm, extentOf, type Outline } from '../geometry/outline.js';
import { withoutClosing } from '../piece/complete-pieces.js';
import type { Copy, Piece, PieceWarning, StripesWish } from '../piece/pieces-file.js';
import type { DrawnPiece } from './drawn-piece.js';
import { type DrawnLine, joinedLines } from './join-lines.js';
import { placeSeams } from './place-seams.js';

export interface BuiltPiece {
  readonly piece: Piece;
  readonly warnings: readonly PieceWarning[];
}

/** A piece from what was drawn of it, or one clause that says what is wrong with it and where. */
export function buildPiece(drawn: DrawnPiece): BuiltPiece | string {
  const { id, facts } = drawn;
  const warnings: PieceWarning[] = [];
  const warn = (code: string, message: string): void => {
    warnings.push({ code, message: `piece "${id}": ${message}` });
  };
  const stitched = outlineOf(drawn.stitching, 'stitching line');
  if (typeof stitched === 'string') return stitched;
  const cut = outlineOf(drawn.cutting, 'cutting line');
  if (typeof cut === 'string') return cut;
  if (stitched === null && cut === null) return 'it has no stitching line and no cutting line';
  if (stitched === null)
    warn('no-stitching-line', 'only a cutting line is given, which is stitched along as well');
  const placed = placeSeams(drawn, stitched ?? (cut as Outline));
  if (typeof placed === 'string') return placed;
  for (const seam of placed.against) {
    warn(
      'seam-turned',
      `seam "${seam}" was drawn against the order of the others and starts at its other end`,
    );
  }
  const allowance = facts.allowance === undefined ? null : signedLengthMm(facts.allowance);
  if (facts.allowance !== undefined && (allowance === null || allowance < 0)) {
    return `its allowance is "${facts.allowance}", expected a length with its unit such as "15 mm" or "5/8 in"`;
  }
  if (drawn.grain === null) warn('no-grain', 'no grain line is drawn: it is taken to run straight up');
  const grain = drawn.grain ?? upright(placed.stitching);
  return {
    piece: {
      id,
      name: facts.name ?? id,
      stitching: placed.stitching,
      cutting: stitched === null ? null : cut,
      allowance_mm: allowance,
      grain,
      stripes: facts.stripes ?? stripesAlong(drawn.stripes, grain),
      points: placed.points,
      seams: placed.seams,
      fold: facts.fold ?? drawn.fold,
      copies: countedCopies(id, facts.copies ?? [{ id, mirrored: false }]),
      ...notchesOf(drawn),
    },
    warnings,
  };
}

/** "copies: 2" and "copies: 1, 1 mirrored" tell how many, and leave the names to the piece: gore 1, gore 2. */
function countedCopies(id: string, copies: readonly Copy[]): readonly Copy[] {
  if (!copies.every((copy) => /^[1-9]\d?$/.test(copy.id))) return copies;
  const all = copies.flatMap(({ id: count, mirrored }) => new Array<boolean>(Number(count)).fill(mirrored));
  return all.map((mirrored, i) => ({ id: all.length === 1 ? id : `${id} ${i + 1}`, mirrored }));
}

function notchesOf({ notches, facts }: DrawnPiece): { notches?: readonly string[] } {
  const all = [...new Set([...notches, ...(facts.notches ?? [])])];
  return all.length === 0 ? {} : { notches: all };
}

/** One closed outline from the lines drawn for it; null where there are none; a text where they make none. */
function outlineOf(lines: readonly DrawnLine[], name: string): Outline | null | string {
  if (lines.length === 0) return null;
  const joined = joinedLines(lines);
  const open = joined.find((line) => !line.closed);
  if (open !== undefined) {
    const [first, last] = [open.points[0], open.points[open.points.length - 1]];
    return `its ${name} is open: it starts at ${placeWords(first)} and ends ${+distanceMm(
      first,
      last,
    ).toFixed(2)} mm away at ${placeWords(last)}`;
  }
  if (joined.length > 1) {
    return `it has ${joined.length} closed lines for its ${name}, one about ${placeWords(
      joined[0].points[0],
    )}, another about ${placeWords(joined[1].points[0])}, expected one`;
  }
  const outline = withoutClosing(joined[0].points);
  return outlineFault(outline, name) ?? outline;
}

/** Up the middle, a fifth of the height free at either end. */
function upright(outline: Outline): readonly [Point, Point] {
  const { left, right, bottom, top } = extentOf(outline);
  const x = (left + right) / 2;
  return [
    [x, bottom + 0.2 * (top - bottom)],
    [x, top - 0.2 * (top - bottom)],
  ];
}

/** A line along which stripes shall run, as a turn from the grain in (-90, 90]: a line drawn either way says the same. */
function stripesAlong(line: readonly [Point, Point] | null, grain: readonly [Point, Point]): StripesWish {
  if (line === null) return { to: 'grain', angle_deg: 0 };
  const deg = ([a, b]: readonly [Point, Point]): number =>
    (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
  const turn = deg(line) - deg(grain);
  const angle = turn - 180 * Math.ceil((turn - 90) / 180);
  // To a ten-thousandth of a degree: a line of 1 m ends 2 micrometres off.
  return { to: 'grain', angle_deg: Math.round(angle * 1e4) / 1e4 + 0 };
}
