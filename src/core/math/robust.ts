/** Middle value; the mean of the two middle ones for an even count; NaN for none. The list is left as it is. */
export function median(values: ArrayLike<number>): number {
  return quantile(values, 0.5);
}

/**
 * The value below which a share q (0..1) of the list lies, straight lines between the ordered values (the default
 * of R, type 7: Hyndman and Fan 1996, doi 10.1080/00031305.1996.10473566). NaN for an empty list.
 */
export function quantile(values: ArrayLike<number>, q: number): number {
  return quantiles(values, [q])[0];
}

/** The same for several shares of one list. */
export function quantiles(values: ArrayLike<number>, shares: readonly number[]): number[] {
  const sorted = new Float64Array(values).sort();
  return shares.map((q) => {
    if (sorted.length === 0) return Number.NaN;
    const place = q * (sorted.length - 1);
    const i = Math.min(Math.floor(place), sorted.length - 1);
    const next = Math.min(i + 1, sorted.length - 1);
    return sorted[i] + (place - i) * (sorted[next] - sorted[i]);
  });
}

/** 1 / (the normal distribution's third quartile): turns a median deviation into a standard deviation. */
const sdPerMad = 1.4826022185056018;

/** Standard deviation as the bulk of the values has it: 1.4826 times the median distance from the median. */
export function robustSd(values: ArrayLike<number>): number {
  const middle = median(values);
  return sdPerMad * median(new Float64Array(values).map((v) => Math.abs(v - middle)));
}

/**
 * Tukey's biweight: how much a value counts whose distance from the fit is `distance` standard deviations; nothing
 * from 4.685 on, where a normal sample keeps 95 % of its efficiency (Beaton and Tukey 1974, doi
 * 10.1080/00401706.1974.10489171).
 */
export function biweight(distance: number): number {
  const t = distance / 4.685;
  return Math.abs(t) < 1 ? (1 - t * t) ** 2 : 0;
}
