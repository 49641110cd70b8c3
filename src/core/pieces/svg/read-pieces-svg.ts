import { anyText, check } from '../../base/expectation.js';
import { type Outcome, refuse, succeed } from '../../base/outcome.js';
import type { Point } from '../../math/matrix3.js';
import { buildPiece } from '../drawn/build-piece.js';
import type { DrawnPiece, DrawnSeam } from '../drawn/drawn-piece.js';
import type { DrawnLine } from '../drawn/join-lines.js';
import { extentOf } from '../geometry/outline.js';
import { checkPieces } from '../piece/check-pieces.js';
import { type Facts, readFact } from '../piece/facts-text.js';
import type { Piece, PiecesFile, PieceWarning } from '../piece/pieces-file.js';
import { readSvgItems, type SvgDrawing, type SvgItem } from './svg-items.js';

/** Width and height of the page that ask for scales further apart than this are told: a thousandth is 1 mm on 1 m. */
const UNEVEN = 1e-3;

/**
 * Reads pieces from a drawing (SVG 1.1 or 2), its curves flattened to 0.01 mm. What each line stands for is told by layer and object names,
 * data attributes or ids; the convention is in samples/pieces/template.svg. Where nothing is named, every closed line with a name of its own
 * is taken for a stitching line, and a warning says so. Refuses a drawing without real units as `no-scale`, and bad geometry with the
 * piece and the place.
 */
export function readPiecesSvg(text: string): Outcome<PiecesFile> {
  check(text, 'text', anyText);
  const drawing = readSvgItems(text);
  if ('kind' in drawing) {
    return drawing.kind === 'no-scale'
      ? refuse(
          'no-scale',
          drawing.found,
          "set the document's size in mm in the drawing program (width, height and viewBox), and check one length afterwards",
        )
      : refuse('unreadable', drawing.found, 'save the drawing again as plain SVG');
  }
  const warnings: PieceWarning[] = [];
  if (drawing.unevenness > UNEVEN) {
    warnings.push({
      code: 'uneven-scale',
      message: `width and height of the page ask for scales that differ by ${(100 * drawing.unevenness).toFixed(1)} %: the smaller is taken for both`,
    });
  }
  const named = drawing.pieces.length > 0 ? drawing : withLinesAsPieces(drawing, warnings);
  if (named.pieces.length === 0) {
    return refuse(
      'unreadable',
      'nothing in the drawing is named as a piece, and no closed line has a name',
      'name a layer "piece front" (front: any name) and the closed line in it "stitching"',
    );
  }
  const pieces: Piece[] = [];
  for (const id of new Set(named.pieces)) {
    const drawn = drawnPiece(id, named, warnings);
    const built = typeof drawn === 'string' ? drawn : buildPiece(drawn);
    if (typeof built === 'string') return broken(`piece "${id}": ${built}`);
    pieces.push(built.piece);
    warnings.push(...built.warnings);
  }
  const fault = checkPieces(pieces);
  if (fault !== null) return broken(fault);
  return succeed({
    format: 'stripewright.pieces',
    version: 1,
    units: 'mm',
    pieces,
    ...(warnings.length === 0 ? {} : { warnings }),
  });
}

const broken = (found: string): Outcome<never> => refuse('unreadable', found, 'correct the drawing');

/** A drawing in which nothing is named as a piece: its closed lines, by their names. */
function withLinesAsPieces(drawing: SvgDrawing, warnings: PieceWarning[]): SvgDrawing {
  const items = drawing.items
    .filter((item) => item.called !== null && item.lines.length === 1 && item.lines[0].closed)
    .map((item): SvgItem => ({ ...item, piece: item.called, role: 'stitching', name: null }));
  if (items.length > 0) {
    warnings.push({
      code: 'pieces-guessed',
      message: `nothing in the drawing is named as a piece: ${items.length === 1 ? 'one closed line' : `${items.length} closed lines`} with a name ${items.length === 1 ? 'is' : 'are'} taken for stitching lines`,
    });
  }
  return { ...drawing, items, pieces: items.map((item) => item.piece as string) };
}

/** Gathers what belongs to one piece, moved into its own frame. A text that says what is wrong. */
function drawnPiece(id: string, drawing: SvgDrawing, warnings: PieceWarning[]): DrawnPiece | string {
  const [originX, originY] = drawing.origins.get(id) ?? [0, 0];
  const own = drawing.items
    .filter((item) => item.piece === id)
    .map((item) => ({
      ...item,
      lines: item.lines.map((line) => ({
        ...line,
        points: line.points.map(([x, y]): Point => [x - originX, y - originY]),
      })),
    }));
  const of = (...roles: SvgItem['role'][]): typeof own => own.filter((item) => roles.includes(item.role));
  const facts = factsOf(own);
  if (typeof facts === 'string') return facts;
  const nameless = of(null).filter((item) => item.lines.length > 0);
  if (nameless.length > 0) {
    warnings.push({
      code: 'left-out',
      message: `piece "${id}": ${nameless.length === 1 ? 'a line that is' : `${nameless.length} lines that are`} named as nothing ${nameless.length === 1 ? 'is' : 'are'} left out (line ${nameless[0].row} of the file)`,
    });
  }
  const seams: DrawnSeam[] = [];
  for (const item of of('seam', 'fold')) {
    const seam = seamOf(item);
    if (typeof seam === 'string') return seam;
    seams.push(seam);
  }
  const points: Record<string, Point> = {};
  const notches: string[] = [];
  for (const item of of('point', 'notch')) {
    const name = item.name ?? nextName(points, item.role === 'notch' ? 'n' : 'p');
    if (Object.hasOwn(points, name)) return `it has two points "${name}"`;
    points[name] = centreOf(item.lines);
    if (item.role === 'notch') notches.push(name);
  }
  const folds = of('fold');
  if (folds.length > 1) return `it has ${folds.length} folds, expected one at most`;
  const linesOf = (role: SvgItem['role']): DrawnLine[] => of(role).flatMap((item) => item.lines);
  return {
    id,
    stitching: linesOf('stitching'),
    cutting: linesOf('cutting'),
    grain: endsOf(linesOf('grain')),
    stripes: endsOf(linesOf('stripes')),
    seams,
    points,
    notches,
    fold: folds.length === 0 ? null : (folds[0].name ?? 'fold'),
    facts,
  };
}

function factsOf(items: readonly SvgItem[]): Facts | string {
  let facts: Facts = {};
  for (const line of items.filter((item) => item.role !== 'label').flatMap((item) => item.text)) {
    const next = readFact(line, facts);
    if (typeof next === 'string') return next;
    facts = next ?? facts;
  }
  return facts;
}

function seamOf({ name, role, lines, from, to, row }: SvgItem): DrawnSeam | string {
  const id = name ?? (role === 'fold' ? 'fold' : null);
  if (id === null) return `a seam has no name (line ${row} of the file): call it such as "seam side"`;
  if (lines.length !== 1) return `its seam "${id}" is drawn as ${lines.length} separate lines, expected one`;
  const [{ points, closed }] = lines;
  return {
    id,
    line: closed ? [...points, points[0]] : points,
    ...(from === null ? {} : { from }),
    ...(to === null ? {} : { to }),
  };
}

/** The middle of the box about a mark: of a ring its centre, of a stroke its middle. */
function centreOf(lines: readonly DrawnLine[]): Point {
  const { left, right, bottom, top } = extentOf(lines.flatMap((line) => line.points));
  return [(left + right) / 2, (bottom + top) / 2];
}

/** A grain line drawn with a head of its own: the longest stroke counts. */
function endsOf(lines: readonly DrawnLine[]): readonly [Point, Point] | null {
  const span = ({ points }: DrawnLine): number =>
    Math.hypot(points[points.length - 1][0] - points[0][0], points[points.length - 1][1] - points[0][1]);
  if (lines.length === 0) return null;
  const { points } = lines.reduce((most, line) => (span(line) > span(most) ? line : most));
  return [points[0], points[points.length - 1]];
}

function nextName(points: Readonly<Record<string, Point>>, letter: string): string {
  let k = 1;
  while (Object.hasOwn(points, `${letter}${k}`)) k++;
  return `${letter}${k}`;
}
