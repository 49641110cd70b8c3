/**
 * The value that would stand at place k (0-based) were the first n values in ascending order; reorders them (quickselect, Hoare
 * 1961, doi 10.1145/366622.366647, pivot the median of three). Linear on average, where sorting for one value is not.
 * The values must hold no NaN.
 */
export function selectKth(values: Float64Array | Float32Array, n: number, k: number): number {
  let low = 0;
  let high = n - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    const a = values[low];
    const b = values[middle];
    const c = values[high];
    const pivot = a < b ? (b < c ? b : a < c ? c : a) : a < c ? a : b < c ? c : b;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i] < pivot) i++;
      while (values[j] > pivot) j--;
      if (i > j) break;
      const swap = values[i];
      values[i] = values[j];
      values[j] = swap;
      i++;
      j--;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else return values[k];
  }
  return values[k];
}

/** Middle of the first n values, the mean of the two middle ones for an even n; reorders them. NaN for none. */
export function middleOf(values: Float64Array | Float32Array, n: number): number {
  if (n === 0) return Number.NaN;
  const upper = selectKth(values, n, n >> 1);
  if (n % 2 === 1) return upper;
  // All below the place of the upper one are no larger than it now.
  let lower = values[0];
  for (let i = 1; i < n >> 1; i++) if (values[i] > lower) lower = values[i];
  return (lower + upper) / 2;
}
