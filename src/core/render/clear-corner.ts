import type { BandModel } from '../model/band-model.js';

type Span = readonly [from: number, to: number];

/**
 * Where a cell of the print may begin, mm [u of its left side, v of its low side], so that it cuts no motif: down the middle of a band
 * where none lies, the widest such band, since on a plain ground the join of two cells is not seen; and midway along the longest
 * stretch without one. Where every such line crosses a motif, 0: the first band's edge, or the level the model counts from.
 */
export function clearCorner(
  { bands, motifs }: BandModel,
  cellMm: number,
  alongMm: number,
  dropFraction: number,
): [number, number] {
  const across = motifs.map(({ across_mm, extent_mm }) => spanAbout(across_mm, extent_mm[0]));
  const isClear = (u: number): boolean =>
    across.every(([from, to]) => Math.floor((u - from) / cellMm) * cellMm + from + (to - from) <= u);
  const clear = bands
    .map(({ start_mm, width_mm }) => ({ middle: start_mm + width_mm / 2, width_mm }))
    .filter(({ middle }) => isClear(middle))
    .sort((p, q) => q.width_mm - p.width_mm);
  const left = clear.length > 0 ? clear[0].middle : 0;
  // Of a row of columns that drop step by step, each has its motifs at levels of its own.
  const columns = dropFraction === 0 ? 1 : COLUMNS;
  const along = motifs.flatMap(({ along_mm, extent_mm }) =>
    Array.from({ length: columns }, (_, k) => spanAbout(along_mm + k * dropFraction * alongMm, extent_mm[1])),
  );
  return [left, widestGap(along, alongMm)];
}

/** After so many columns the levels of any drop lie as close as they will. */
const COLUMNS = 8;

const spanAbout = (middle: number, extent: number): Span => [middle - extent / 2, middle + extent / 2];

/** The middle of the longest stretch of 0..period, which comes round, that no span covers; 0 if there is none. */
function widestGap(spans: readonly Span[], period: number): number {
  const home = spans
    .map(([from, to]): Span => {
      const start = from - Math.floor(from / period) * period;
      return [start, start + (to - from)];
    })
    .sort((p, q) => p[0] - q[0]);
  // Once round before the gaps count, since a span may reach over the end.
  let reach = Math.max(...home.map(([, to]) => to - period), Number.NEGATIVE_INFINITY);
  let [best, width] = [0, 0];
  for (const [from, to] of home) {
    if (from - reach > width && Number.isFinite(reach)) [best, width] = [(from + reach) / 2, from - reach];
    reach = Math.max(reach, to);
  }
  return best;
}
