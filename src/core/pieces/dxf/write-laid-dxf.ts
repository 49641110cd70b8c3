import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import type { Outline } from '../geometry/outline.js';
import type { Piece } from '../piece/pieces-file.js';
import { LAYER } from './layers.js';
import { blockNames, drawBlock, encoded, rounded } from './write-pieces-dxf.js';

/** A length of cloth and what lies on it, mm: x from the left selvage, y from the cut end. */
export interface LaidSheet {
  readonly id: string;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly inserts: readonly {
    readonly piece: string;
    /** Cutting line in the piece frame of a part of a piece; null: the whole piece. */
    readonly part: Outline | null;
    /** Piece frame to length frame, as the six numbers of SVG's matrix. */
    readonly transform: readonly [number, number, number, number, number, number];
  }[];
}

/** Layer of the cloth's edges: none of the standard's, so that no reader of patterns takes it for a piece. */
const CLOTH_LAYER = 'cloth';
const TEXT_MM = 20;
/** Between lengths, which lie side by side. */
const GAP_MM = 100;

/**
 * Pieces laid on cloth as a DXF file in mm: one block for each piece as writePiecesDxf has it, inserted where each copy lies; mirror images by a factor of -1
 * across, then turned.
 */
export function writeLaidDxf(pieces: readonly Piece[], sheets: readonly LaidSheet[]): string {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  for (const layer of [...Object.values(LAYER), CLOTH_LAYER]) dxf.addLayer(layer, 7, 'Continuous');
  const names = blockNames(pieces);
  const nameOf = new Map(pieces.map(({ id }, k) => [id, names[k]]));
  const isUsed = (id: string): boolean =>
    sheets.some(({ inserts }) => inserts.some(({ piece, part }) => piece === id && part === null));
  pieces.forEach((piece, k) => {
    if (isUsed(piece.id)) drawBlock(dxf.addBlock(names[k]), piece);
  });
  let left = 0;
  let parts = 0;
  for (const { id, widthMm, lengthMm, inserts } of sheets) {
    const corners = [
      [left, 0],
      [left + widthMm, 0],
      [left + widthMm, lengthMm],
      [left, lengthMm],
    ];
    addOutline(dxf, corners as unknown as Outline, CLOTH_LAYER);
    dxf.addText(point3d(left, -2 * TEXT_MM), TEXT_MM, encoded(id), { layerName: CLOTH_LAYER });
    for (const { piece, part, transform } of inserts) {
      const [a, b, c, d, e, f] = transform;
      let name = nameOf.get(piece);
      if (name === undefined) throw new RangeError(`inserts: there is no piece "${piece}"`);
      if (part !== null) {
        name = `${name}_part_${++parts}`;
        addOutline(dxf.addBlock(name), part, LAYER.boundary);
      }
      const side = a * d - b * c < 0 ? -1 : 1;
      dxf.addInsert(name, point3d(rounded(left + e), rounded(f)), {
        layerName: LAYER.boundary,
        rotationAngle: rounded((Math.atan2(side * b, side * a) * 180) / Math.PI),
        scaleFactor: { x: side, y: 1, z: 1 },
      });
    }
    left += widthMm + GAP_MM;
  }
  return dxf.stringify();
}

function addOutline(to: Pick<DxfWriter, 'addLWPolyline'>, outline: Outline, layerName: string): void {
  const vertices = outline.map(([x, y]) => ({ point: point2d(rounded(x), rounded(y)) }));
  to.addLWPolyline(vertices, { flags: LWPolylineFlags.Closed, layerName });
}
