import { type Raster, raster } from './raster.js';

/**
 * Encoded luma of an 8-bit RGB picture, Rec. 709 weights in 1/256 (54, 183, 19). Encoded rather than linear:
 * edges and ticks are then equally visible in light and shade.
 */
export function lumaOf(picture: Raster<Uint8Array>): Raster<Uint8Array> {
  const { width, height } = picture;
  const luma = new Uint8Array(width * height);
  // Row by row: a small loop called often is compiled early.
  for (let y = 0; y < height; y++) fillLuma(picture, luma, y * width, (y + 1) * width);
  return raster(width, height, 1, luma);
}

/** Luma of the pixels from index `from` up to `to`. */
function fillLuma({ channels, data }: Raster<Uint8Array>, luma: Uint8Array, from: number, to: number): void {
  for (let i = from, j = from * channels; i < to; i++, j += channels) {
    luma[i] = (54 * data[j] + 183 * data[j + 1] + 19 * data[j + 2] + 128) >> 8;
  }
}

/** A luma plane that is filled in only where it will be read: most of a large picture never is. */
export interface PartialLuma {
  readonly picture: Raster<Uint8Array>;
  /** Zero where not yet filled. */
  readonly luma: Raster<Uint8Array>;
  /** The columns filled in each row so far, from (inclusive) to (exclusive). */
  readonly from: Int32Array;
  readonly to: Int32Array;
}

export function partialLuma(picture: Raster<Uint8Array>): PartialLuma {
  const { width, height } = picture;
  return {
    picture,
    luma: raster(width, height, 1, new Uint8Array(width * height)),
    from: new Int32Array(height).fill(width),
    to: new Int32Array(height),
  };
}

/** Fills in all of it. */
export function fillLumaWhole(part: PartialLuma): void {
  for (let y = 0; y < part.from.length; y++) fillRow(part, y, 0, part.picture.width);
}

/** Fills in what lies within `reachPx` of the straight line from (x0, y0) to (x1, y1). */
export function fillLumaAlong(
  part: PartialLuma,
  x0: number,
  y0: number,
  x1: number,
  y1: number,
  reachPx: number,
): void {
  const { width, height } = part.picture;
  const length = Math.max(1e-9, Math.hypot(x1 - x0, y1 - y0));
  const alongX = (x1 - x0) / length;
  const alongY = (y1 - y0) / length;
  const low = Math.max(0, Math.floor(Math.min(y0, y1) - reachPx));
  const high = Math.min(height, Math.ceil(Math.max(y0, y1) + reachPx));
  const left = Math.min(x0, x1) - reachPx;
  const right = Math.max(x0, x1) + reachPx;
  for (let y = low; y < high; y++) {
    let from = left;
    let to = right;
    if (Math.abs(alongY) > 1e-9) {
      // |across| <= reach on a row is a stretch of x about where the line passes.
      const middle = x0 + ((y + 0.5 - y0) * alongX) / alongY;
      const half = (reachPx + 1) / Math.abs(alongY);
      from = Math.max(from, middle - half);
      to = Math.min(to, middle + half);
    }
    from = Math.max(0, Math.floor(from));
    to = Math.min(width, Math.ceil(to));
    if (from < to) fillRow(part, y, from, to);
  }
}

/** Rows stay filled in one piece: a gap to what is there already is filled as well. */
function fillRow(
  { picture, luma, from, to }: PartialLuma,
  y: number,
  wantFrom: number,
  wantTo: number,
): void {
  const start = y * picture.width;
  if (to[y] === 0) {
    fillLuma(picture, luma.data, start + wantFrom, start + wantTo);
    from[y] = wantFrom;
    to[y] = wantTo;
    return;
  }
  if (wantFrom < from[y]) {
    fillLuma(picture, luma.data, start + wantFrom, start + from[y]);
    from[y] = wantFrom;
  }
  if (wantTo > to[y]) {
    fillLuma(picture, luma.data, start + to[y], start + wantTo);
    to[y] = wantTo;
  }
}
