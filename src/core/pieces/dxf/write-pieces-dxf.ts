import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import type { Point } from '../../math/matrix3.js';
import { lineLengthMm, type Outline, perimeterMm } from '../geometry/outline.js';
import { foldEnds, givenCutting, seamLine, stripesDirectionDeg } from '../geometry/whole-piece.js';
import { checkPiecesFile } from '../piece/check-pieces-file.js';
import { factLines, writtenSeamLine } from '../piece/facts-text.js';
import type { Piece, PiecesFile } from '../piece/pieces-file.js';
import { layOutPage } from '../svg/page-layout.js';
import { LAYER } from './layers.js';

/** Height of the writing, mm. */
const TEXT_MM = 6;
/** A corner that turns by so much is a turn point, degrees; less is a curve. */
const TURN_DEG = 20;

/**
 * Pieces as a DXF file by the layers of ASTM D6673, in mm ($INSUNITS 4): one block for each, its cutting line as the boundary (layer 1), its
 * stitching line as the sew line (14), laid out once for each copy. What the standard has no place for (names of points and seams, copies, stripes) stands as
 * text on layer 15, at the place it is about, and is read again by readPiecesDxf. The same pieces give the same text.
 */
export function writePiecesDxf(file: PiecesFile): string {
  checkPiecesFile(file);
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  for (const layer of Object.values(LAYER)) dxf.addLayer(layer, 7, 'Continuous');
  const page = layOutPage(file.pieces, { headMm: 0, footMm: 0, underMm: 0 });
  const names = blockNames(file.pieces);
  page.placed.forEach(({ piece, originX, originY }, i) => {
    drawBlock(dxf.addBlock(names[i]), piece);
    for (const { mirrored } of piece.copies) {
      const scaleFactor = { x: mirrored ? -1 : 1, y: 1, z: 1 };
      dxf.addInsert(names[i], point3d(originX, page.heightMm - originY), {
        layerName: LAYER.boundary,
        scaleFactor,
      });
    }
  });
  return dxf.stringify();
}

export type Block = ReturnType<DxfWriter['addBlock']>;

/** A piece with all its lines and words, in its own frame. */
export function drawBlock(block: Block, piece: Piece): void {
  const text = (words: string, [x, y]: Point): void => {
    block.addText(point3d(rounded(x), rounded(y)), TEXT_MM, encoded(words), { layerName: LAYER.text });
  };
  const outline = (points: Outline, layerName: string): void => {
    const vertices = points.map(([x, y]) => ({ point: point2d(rounded(x), rounded(y)) }));
    block.addLWPolyline(vertices, { flags: LWPolylineFlags.Closed, layerName });
  };
  const line = ([p, q]: readonly [Point, Point], layerName: string): void => {
    block.addLine(point3d(rounded(p[0]), rounded(p[1])), point3d(rounded(q[0]), rounded(q[1])), {
      layerName,
    });
  };
  outline(givenCutting(piece), LAYER.boundary);
  outline(piece.stitching, LAYER.sew);
  line(piece.grain, LAYER.grain);
  const fold = foldEnds(piece);
  if (fold !== null) line(fold, LAYER.mirror);
  if (piece.stripes.to !== 'grain' || piece.stripes.angle_deg !== 0) line(stripesLine(piece), LAYER.stripes);
  for (const [x, y] of corners(piece.stitching)) {
    block.addPoint(rounded(x), rounded(y), 0, { layerName: LAYER.turnPoints });
  }
  for (const [id, at] of Object.entries(piece.points)) {
    const isNotch = piece.notches?.includes(id) ?? false;
    if (isNotch) block.addPoint(rounded(at[0]), rounded(at[1]), 0, { layerName: LAYER.notches });
    text(`${isNotch ? 'notch' : 'point'} ${id}`, at);
  }
  // Under one another within the piece, where the grain line stands.
  const [foot] = piece.grain;
  const facts = [
    `name: ${piece.name}`,
    ...factLines({
      ...piece,
      name: piece.id,
      allowance_mm: piece.cutting === null ? piece.allowance_mm : null,
    }),
    ...piece.seams.map((seam) => {
      const long =
        seam.from !== seam.to && 2 * lineLengthMm(seamLine(piece, seam.id)) > perimeterMm(piece.stitching);
      return writtenSeamLine({ ...seam, long });
    }),
    ...(piece.fold === null ? [] : [`fold: ${piece.fold}`]),
  ];
  facts.forEach((words, i) => {
    text(words, [foot[0] + TEXT_MM, foot[1] - 1.5 * TEXT_MM * i]);
  });
  block.addText(point3d(rounded(foot[0]), rounded(foot[1])), TEXT_MM, encoded(`Piece Name: ${piece.id}`), {
    layerName: LAYER.boundary,
  });
}

/** As long as the grain line, from its foot. */
function stripesLine(piece: Piece): readonly [Point, Point] {
  const [foot, head] = piece.grain;
  const length = Math.hypot(head[0] - foot[0], head[1] - foot[1]);
  const angle = (stripesDirectionDeg(piece) * Math.PI) / 180;
  return [foot, [foot[0] + length * Math.cos(angle), foot[1] + length * Math.sin(angle)]];
}

const corners = (outline: Outline): Point[] =>
  outline.filter((p, i) => {
    const before = outline[(i + outline.length - 1) % outline.length];
    const after = outline[(i + 1) % outline.length];
    const turn =
      Math.atan2(after[1] - p[1], after[0] - p[0]) - Math.atan2(p[1] - before[1], p[0] - before[0]);
    const folded = Math.abs(turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI)));
    return (folded * 180) / Math.PI >= TURN_DEG;
  });

/** 0.1 micrometre, and no number in the form 1e-7, which some readers do not know. */
export const rounded = (mm: number): number => Math.round(mm * 1e4) / 1e4 + 0;

/** Letters beyond ASCII by their code, which every release of DXF knows. */
export const encoded = (words: string): string =>
  words
    .replace(/[\r\n]+/g, ' ')
    .replace(
      /[^\x20-\x7e]/g,
      (mark) => `\\U+${mark.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
    );

/** Block names of letters, digits and underscores, 31 at most, as old releases want them; each once. */
export function blockNames(pieces: readonly Piece[]): string[] {
  const given = new Set<string>();
  return pieces.map(({ id }) => {
    const plain = id.replace(/[^A-Za-z0-9_-]+/g, '_').slice(0, 28) || 'piece';
    let name = plain;
    for (let k = 2; given.has(name.toLowerCase()); k++) name = `${plain}_${k}`;
    given.add(name.toLowerCase());
    return name;
  });
}
