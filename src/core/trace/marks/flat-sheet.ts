import type { Point } from '../../math/matrix3.js';
import { fillPolygon } from '../../raster/fill-polygon.js';

/** The paper seen from straight above, grey: mm of the plane are (leftMm + x / pxPerMm, topMm - y / pxPerMm). */
export interface FlatSheet {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  readonly leftMm: number;
  readonly topMm: number;
  /** Luma 0..255. */
  readonly luma: Float32Array;
}

export const sheetFromPlane = ({ pxPerMm, leftMm, topMm }: FlatSheet, [x, y]: Point): Point => [
  (x - leftMm) * pxPerMm,
  (topMm - y) * pxPerMm,
];

export const planeFromSheet = ({ pxPerMm, leftMm, topMm }: FlatSheet, [x, y]: Point): Point => [
  leftMm + x / pxPerMm,
  topMm - y / pxPerMm,
];

/** 1 inside a closed line of the plane. */
export function insideOf(sheet: FlatSheet, outline: readonly Point[]): Uint8Array {
  const mask = new Uint8Array(sheet.width * sheet.height);
  fillPolygon(
    mask,
    sheet.width,
    sheet.height,
    outline.map((p) => sheetFromPlane(sheet, p)),
    1,
  );
  return mask;
}
