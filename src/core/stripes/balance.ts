/** One band as the test for balance sees it. */
export interface BalanceBand {
  readonly colour: string;
  readonly widthMm: number;
  /** Standard deviation of the mean width. */
  readonly sdMm: number;
}

export interface Balance {
  readonly balanced: boolean;
  /** Share of the repeat that has the colour of its own mirror image, at the best axis: 1 = perfectly balanced. */
  readonly score: number;
  /** Axes of the repeat, mm from the start of the first band, in [0, repeat): empty unless balanced. */
  readonly axesMm: readonly number[];
}

/** Two widths this near are one width to a maker, however finely they were measured. */
const SAME_WIDTH_MM = 0.3;

/**
 * Is the band sequence its own reverse about some axis? A mirror axis of a cyclic sequence of unlike neighbours lies in the
 * middle of a band, so each band's middle is tried: bands equally far to either side must agree in colour, and in width
 * within three standard deviations of the difference, or a third of a millimetre.
 */
export function balanceOf(bands: readonly BalanceBand[]): Balance {
  const n = bands.length;
  const repeat = bands.reduce((s, b) => s + b.widthMm, 0);
  const axesMm: number[] = [];
  let score = 0;
  let start = 0;
  for (let axis = 0; axis < n; axis++) {
    let mirrored = true;
    for (let d = 1; d <= n >> 1 && mirrored; d++) {
      const p = bands[(axis + d) % n];
      const q = bands[(axis - d + n) % n];
      const allowed = Math.max(SAME_WIDTH_MM, 3 * Math.hypot(p.sdMm, q.sdMm));
      mirrored = p.colour === q.colour && Math.abs(p.widthMm - q.widthMm) <= allowed;
    }
    const middle = start + bands[axis].widthMm / 2;
    if (mirrored) axesMm.push(middle);
    score = Math.max(score, mirroredShare(bands, middle, repeat));
    start += bands[axis].widthMm;
  }
  return { balanced: axesMm.length > 0, score, axesMm };
}

/** Share of the repeat whose colour equals that at the mirrored place, exactly, over the pieces between all edges. */
function mirroredShare(bands: readonly BalanceBand[], axis: number, repeat: number): number {
  const wrap = (u: number) => u - repeat * Math.floor(u / repeat);
  const edges: number[] = [0];
  for (const b of bands) edges.push(edges[edges.length - 1] + b.widthMm);
  const cuts = [...edges, ...edges.map((u) => wrap(2 * axis - u)), repeat].sort((a, b) => a - b);
  const colourAt = (u: number): string => {
    const place = wrap(u);
    const i = edges.findIndex((e, k) => k > 0 && place < e);
    return bands[Math.max(0, i - 1)].colour;
  };
  let same = 0;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const middle = (cuts[i] + cuts[i + 1]) / 2;
    if (colourAt(middle) === colourAt(2 * axis - middle)) same += cuts[i + 1] - cuts[i];
  }
  return same / repeat;
}
