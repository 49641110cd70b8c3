import { type Raster, raster } from './raster.js';

/**
 * A smaller picture whose every pixel is the mean of the area it covers, whatever the ratio; any number of channels.
 * Throws RangeError when a side would grow or vanish.
 */
export function shrinkByArea(picture: Raster<Uint8Array>, width: number, height: number): Raster<Uint8Array> {
  if (!(width >= 1 && height >= 1 && width <= picture.width && height <= picture.height)) {
    throw new RangeError(
      `shrink: expected a size from 1 x 1 to ${picture.width} x ${picture.height}, received ${width} x ${height}`,
    );
  }
  const { channels, data } = picture;
  const columns = coverage(picture.width, width);
  const rows = coverage(picture.height, height);
  const out = new Uint8Array(width * height * channels);
  const sums = new Float64Array(width * channels);
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    for (let j = rows.first[y]; j <= rows.last[y]; j++) {
      const rowShare = shareOf(rows, y, j);
      const row = j * picture.width * channels;
      for (let x = 0; x < width; x++) {
        for (let i = columns.first[x]; i <= columns.last[x]; i++) {
          const share = rowShare * shareOf(columns, x, i);
          for (let c = 0; c < channels; c++) sums[x * channels + c] += share * data[row + i * channels + c];
        }
      }
    }
    const start = y * width * channels;
    for (let k = 0; k < sums.length; k++) out[start + k] = sums[k] + 0.5;
  }
  return raster(width, height, channels, out);
}

/** Which old pixels each new one covers, and how much of the first and the last of them; shares sum to 1. */
interface Coverage {
  readonly first: Int32Array;
  readonly last: Int32Array;
  readonly firstShare: Float64Array;
  readonly lastShare: Float64Array;
  readonly wholeShare: number;
}

function coverage(from: number, to: number): Coverage {
  const first = new Int32Array(to);
  const last = new Int32Array(to);
  const firstShare = new Float64Array(to);
  const lastShare = new Float64Array(to);
  for (let k = 0; k < to; k++) {
    const start = (k * from) / to;
    const end = ((k + 1) * from) / to;
    first[k] = Math.floor(start);
    last[k] = Math.min(Math.ceil(end), from) - 1;
    firstShare[k] = ((Math.min(first[k] + 1, end) - start) * to) / from;
    lastShare[k] = ((end - Math.max(last[k], start)) * to) / from;
  }
  return { first, last, firstShare, lastShare, wholeShare: to / from };
}

const shareOf = (c: Coverage, k: number, i: number): number =>
  i === c.first[k] ? c.firstShare[k] : i === c.last[k] ? c.lastShare[k] : c.wholeShare;
