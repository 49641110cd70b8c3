import { labFromRgb8 } from '../colour/lab.js';
import type { Point } from '../math/matrix3.js';
import { median, quantile } from '../math/robust.js';
import type { Raster } from '../raster/raster.js';
import { type FittedSide, valueAt } from './fit-side.js';
import { placeWithin, type SheetPose } from './sheet-pose.js';

/** White under any light of a room: no more chroma than this, and no darker than the middle of the picture. */
const mostChroma = 34;

/** Tells whether what four corners enclose could be white paper, in the light of the whole picture. */
export function whiteness(lab: Raster<Float32Array>): (corners: SheetPose['corners']) => boolean {
  const { width, data } = lab;
  const lightness = median(
    Float32Array.from({ length: Math.floor(data.length / 51) }, (_, i) => data[51 * i]),
  );
  return (corners) => {
    const inside: [number, number][] = [];
    for (let j = 1; j < 16; j++) {
      for (let i = 1; i < 16; i++) {
        const [x, y] = placeWithin(corners, i / 16, j / 16);
        const p = 3 * (Math.floor(y) * width + Math.floor(x));
        inside.push([data[p], Math.hypot(data[p + 1], data[p + 2])]);
      }
    }
    // Three quarters up: part of the sheet may lie in shadow.
    return (
      quantile(
        inside.map(([l]) => l),
        0.75,
      ) >= lightness && median(inside.map(([, chroma]) => chroma)) <= mostChroma
    );
  };
}

/** Colours just inside a side and farther in differ by no more than this where both are paper: units of Lab. */
const mostStep = 6;

/**
 * Whether the sheet begins at this side: just inside it lies what lies farther in, `depthPx` from it, too. False beside a
 * stripe that runs along the sheet, where a strip of cloth lies between.
 */
export function paperFrom(
  picture: Raster<Uint8Array>,
  side: FittedSide,
  lengthPx: number,
  depthPx: number,
): boolean {
  const edge = medianLab(picture, side, lengthPx, 3);
  const within = medianLab(picture, side, lengthPx, depthPx);
  return Math.hypot(edge[0] - within[0], edge[1] - within[1], edge[2] - within[2]) <= mostStep;
}

/** Median colour along a line `inPx` to the right of a side. */
function medianLab(
  { width, height, channels, data }: Raster<Uint8Array>,
  { from, dx, dy, o }: FittedSide,
  lengthPx: number,
  inPx: number,
): readonly [number, number, number] {
  const places = 80;
  const at = Array.from({ length: places }, (_, k): Point => {
    const t = (0.1 + (0.8 * (k + 0.5)) / places) * lengthPx;
    const off = valueAt(o, t) + inPx;
    return [from[0] + t * dx - off * dy, from[1] + t * dy + off * dx];
  });
  const channel = (c: number): number =>
    Math.round(
      median(
        at.map(([x, y]) => {
          const px = Math.min(Math.max(Math.floor(x), 0), width - 1);
          const py = Math.min(Math.max(Math.floor(y), 0), height - 1);
          return data[(py * width + px) * channels + c];
        }),
      ),
    );
  return labFromRgb8([channel(0), channel(1), channel(2)]);
}
