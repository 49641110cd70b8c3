/**
 * Bilinear sample of a one-channel picture at (x, y) in the corner-origin frame (pixel centres at .5).
 * Outside the outermost pixel centres the border value is held.
 */
export function sampleBilinear(
  data: ArrayLike<number>,
  width: number,
  height: number,
  x: number,
  y: number,
): number {
  let fx = x - 0.5;
  let fy = y - 0.5;
  if (fx < 0) fx = 0;
  else if (fx > width - 1.001) fx = width - 1.001;
  if (fy < 0) fy = 0;
  else if (fy > height - 1.001) fy = height - 1.001;
  const ix = fx | 0;
  const iy = fy | 0;
  const ax = fx - ix;
  const ay = fy - iy;
  const i = iy * width + ix;
  const top = data[i] + (data[i + 1] - data[i]) * ax;
  const low = data[i + width] + (data[i + width + 1] - data[i + width]) * ax;
  return top + (low - top) * ay;
}
