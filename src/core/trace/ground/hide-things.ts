import type { Point } from '../../math/matrix3.js';
import { fillPolygon, grownPolygon } from '../../raster/fill-polygon.js';

/** A mask of a copy of the picture, 1 where one of the polygons lies or comes within the margin. Polygons and margin in picture px. */
export function hiddenPlaces(
  width: number,
  height: number,
  picturePerCopy: number,
  things: readonly (readonly Point[])[],
  marginPx: number,
): Uint8Array {
  const mask = new Uint8Array(width * height);
  for (const thing of things) {
    const grown = grownPolygon(thing, marginPx).map(
      ([x, y]): Point => [x / picturePerCopy, y / picturePerCopy],
    );
    fillPolygon(mask, width, height, grown, 1);
  }
  return mask;
}
