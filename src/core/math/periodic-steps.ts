/**
 * A periodic, piecewise constant function of one variable with one or more channels: the colour of striped
 * cloth across its stripes. Its averages over boxes are exact, however many steps a box covers, so neither
 * a picture's pixels nor a piece's colour shares need sampling.
 */
export interface PeriodicSteps {
  readonly period: number;
  readonly channels: number;
  /** Ascending, first 0, last = period; steps + 1 values. */
  readonly edges: Float64Array;
  /** Step by step, channels interleaved. */
  readonly values: Float64Array;
  /** First antiderivative at each edge (0 at the first), channels interleaved. */
  readonly once: Float64Array;
  /** Second antiderivative at each edge, likewise. */
  readonly twice: Float64Array;
}

/**
 * widths: the steps in order, all > 0; their sum is the period. valuesOfStep: channel values of each step.
 * Throws RangeError on an empty list or a width that is not positive.
 */
export function periodicSteps(
  widths: readonly number[],
  valuesOfStep: readonly (readonly number[])[],
): PeriodicSteps {
  if (widths.length === 0 || widths.some((w) => !(w > 0))) {
    throw new RangeError(`step widths: expected positive numbers, received [${widths.join(', ')}]`);
  }
  const channels = valuesOfStep[0].length;
  const edges = new Float64Array(widths.length + 1);
  const values = new Float64Array(widths.length * channels);
  const once = new Float64Array(edges.length * channels);
  const twice = new Float64Array(edges.length * channels);
  widths.forEach((w, k) => {
    edges[k + 1] = edges[k] + w;
    for (let c = 0; c < channels; c++) {
      const i = k * channels + c;
      values[i] = valuesOfStep[k][c];
      once[i + channels] = once[i] + values[i] * w;
      twice[i + channels] = twice[i] + once[i] * w + (values[i] * w * w) / 2;
    }
  });
  return { period: edges[widths.length], channels, edges, values, once, twice };
}

/** Index of the step that holds x; a step owns its lower edge. Any real x. */
export function stepAt(steps: PeriodicSteps, x: number): number {
  const { edges, period } = steps;
  const r = x - Math.floor(x / period) * period;
  let low = 0;
  let high = edges.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (edges[middle] <= r) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Mean of the function under the convolution of two centred boxes of widths a and b (>= 0) about x, one
 * value a channel into `out`. The footprint of a pixel or a rectangle under a linear map u = ux x + uy y has
 * a = |ux| width and b = |uy| height.
 */
export function boxMean(steps: PeriodicSteps, x: number, a: number, b: number, out: Float64Array): void {
  const wide = Math.max(a, b);
  const narrow = Math.min(a, b);
  // Below this ratio the second difference would lose digits while the narrow box changes nothing visible.
  if (narrow > 1e-4 * wide) {
    out.fill(0, 0, steps.channels);
    const outer = (wide + narrow) / 2;
    const inner = (wide - narrow) / 2;
    const scale = 1 / (wide * narrow);
    addSecond(steps, x + outer, scale, out);
    addSecond(steps, x + inner, -scale, out);
    addSecond(steps, x - inner, -scale, out);
    addSecond(steps, x - outer, scale, out);
  } else if (wide > 0) {
    out.fill(0, 0, steps.channels);
    addFirst(steps, x + wide / 2, 1 / wide, out);
    addFirst(steps, x - wide / 2, -1 / wide, out);
  } else {
    const k = stepAt(steps, x) * steps.channels;
    for (let c = 0; c < steps.channels; c++) out[c] = steps.values[k + c];
  }
}

function addFirst(steps: PeriodicSteps, x: number, weight: number, out: Float64Array): void {
  const { period, channels, edges, values, once } = steps;
  const turns = Math.floor(x / period);
  const k = stepAt(steps, x);
  const t = x - turns * period - edges[k];
  const last = (edges.length - 1) * channels;
  for (let c = 0; c < channels; c++) {
    const i = k * channels + c;
    out[c] += weight * (turns * once[last + c] + once[i] + values[i] * t);
  }
}

function addSecond(steps: PeriodicSteps, x: number, weight: number, out: Float64Array): void {
  const { period, channels, edges, values, once, twice } = steps;
  const turns = Math.floor(x / period);
  const r = x - turns * period;
  const k = stepAt(steps, x);
  const t = r - edges[k];
  const last = (edges.length - 1) * channels;
  for (let c = 0; c < channels; c++) {
    const i = k * channels + c;
    // Whole turns add the period's integral as a ramp: turns (turns - 1) / 2 of it times the period, and so on.
    const whole = turns * (once[last + c] * (period * (turns - 1) * 0.5 + r) + twice[last + c]);
    out[c] += weight * (whole + twice[i] + once[i] * t + (values[i] * t * t) / 2);
  }
}
