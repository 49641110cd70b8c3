import type { Raster } from '../../../src/core/raster/raster.js';

/** One colour change down a column: where it lies, px from the top, and the palette colours above and below. */
export interface ColumnEdge {
  readonly y: number;
  readonly above: number;
  readonly below: number;
}

/**
 * Reads the band edges down one pixel column knowing nothing but the palette. Pixels that show a palette
 * colour all but exactly form plateaus; between the middles of two plateaus the share of the lower colour,
 * summed in linear light, tells where the edge is whatever the blur. sRGB by IEC 61966-2-1, written out
 * here so that the reader shares nothing with the painter.
 */
export function readColumn(
  picture: Raster<Uint8Array>,
  x: number,
  palette: readonly (readonly [number, number, number])[],
): ColumnEdge[] {
  const pixel = (y: number): number[] => {
    const i = (y * picture.width + x) * picture.channels;
    return [picture.data[i], picture.data[i + 1], picture.data[i + 2]];
  };
  const plateaus: { colour: number; from: number; to: number }[] = [];
  for (let y = 0; y < picture.height; y++) {
    const p = pixel(y);
    const colour = palette.findIndex((c) => c.every((v, k) => Math.abs(v - p[k]) <= 3));
    const last = plateaus[plateaus.length - 1];
    if (colour < 0) continue;
    if (last !== undefined && last.colour === colour && last.to === y) last.to = y + 1;
    else plateaus.push({ colour, from: y, to: y + 1 });
  }
  const edges: ColumnEdge[] = [];
  for (let k = 1; k < plateaus.length; k++) {
    const [a, b] = [plateaus[k - 1], plateaus[k]];
    if (a.colour === b.colour) continue;
    const [from, to] = [palette[a.colour].map(linear), palette[b.colour].map(linear)];
    const d = to.map((v, c) => v - from[c]);
    const dd = d.reduce((s, v) => s + v * v, 0);
    const top = Math.floor((a.from + a.to) / 2);
    const foot = Math.ceil((b.from + b.to) / 2);
    let lower = 0;
    for (let y = top; y < foot; y++) {
      lower += pixel(y).reduce((s, v, c) => s + (linear(v) - from[c]) * d[c], 0) / dd;
    }
    edges.push({ y: foot - lower, above: a.colour, below: b.colour });
  }
  return edges;
}

const linear = (byte: number): number => {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
};

/**
 * Crossings on the seam itself, from two columns of one half: each edge is a straight line, followed back to
 * the seam. near, far: columns; seamX: the seam, px. Edges are paired by colours and nearness.
 */
export function crossingsAtSeam(
  picture: Raster<Uint8Array>,
  seamX: number,
  near: number,
  far: number,
  palette: readonly (readonly [number, number, number])[],
  slopeGuess: number,
): { y: number; slope: number; above: number; below: number }[] {
  const close = readColumn(picture, near, palette);
  const away = readColumn(picture, far, palette);
  const run = far - near;
  return close.flatMap((edge) => {
    const wanted = edge.y + slopeGuess * run;
    const mates = away.filter((other) => other.above === edge.above && other.below === edge.below);
    const mate = mates.sort((a, b) => Math.abs(a.y - wanted) - Math.abs(b.y - wanted))[0];
    if (mate === undefined || Math.abs(mate.y - wanted) > 3) return [];
    const slope = (mate.y - edge.y) / run;
    return [{ y: edge.y + slope * (seamX - (near + 0.5)), slope, above: edge.above, below: edge.below }];
  });
}
