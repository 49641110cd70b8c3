import { type ClothPattern, wrap } from './cloth-pattern.js';

/** The band sequence compared with its own reverse. */
export interface BandMirror {
  /** Whether it is its own reverse within the tolerance. */
  readonly balanced: boolean;
  /** Cloth u of the mirror lines within one repeat, ascending; empty when there is none. */
  readonly axesUMm: readonly number[];
  /** Largest misfit of an edge at the best axis whose colours agree; null when at no axis they do. */
  readonly residualMm: number | null;
  /** Largest misfit forgiven at that axis: the cloth's own unevenness, see mirrorTolerance. */
  readonly toleranceMm: number | null;
}

/** How well widths are known when nothing was measured: they were typed to a tenth of a mm. */
const TYPED_MM = 0.1;

/**
 * Mirror lines of a cyclic band list. A list read backwards can only fit itself with whole bands on whole
 * bands, so a mirror line runs through the middle of a band (two of them, half a repeat apart), and only n
 * ways need comparing, where n is the number of bands. widthSdMm: spread of each band's width, null when not
 * known. Two widths that mirror each other may differ by twice the spread of their difference.
 */
export function bandMirrors(pattern: ClothPattern, widthSdMm: readonly (number | null)[]): BandMirror {
  const { bands, repeatMm, originUMm } = pattern;
  const n = bands.length;
  let residualMm: number | null = null;
  let toleranceMm: number | null = null;
  const axes: number[] = [];
  // Reversal number r sends band k to band r - k.
  for (let r = 0; r < n; r++) {
    if (!bands.every((band, k) => band.srgb === bands[wrap(r - k, n)].srgb)) continue;
    let worst = 0;
    let allowed = TYPED_MM;
    let fits = true;
    for (let k = 0; k < n; k++) {
      const j = wrap(r - k, n);
      const off = Math.abs(bands[k].widthMm - bands[j].widthMm);
      const limit = TYPED_MM + 2 * Math.hypot(widthSdMm[k] ?? 0, widthSdMm[j] ?? 0);
      if (off > limit) fits = false;
      if (off >= worst) {
        worst = off;
        allowed = limit;
      }
    }
    if (residualMm === null || worst < residualMm) {
      residualMm = worst;
      toleranceMm = allowed;
    }
    if (fits) axes.push(...axesOf(pattern, r));
  }
  const folded = axes.map((u) => originUMm + wrap(u - originUMm, repeatMm));
  return {
    balanced: axes.length > 0,
    axesUMm: distinct(folded, repeatMm / 1000),
    residualMm,
    toleranceMm,
  };
}

/** Where reversal r keeps a band or an edge in place: averaged over all its pairs, so that small misfits even out. */
function axesOf(pattern: ClothPattern, r: number): number[] {
  const { bands, repeatMm, originUMm } = pattern;
  const n = bands.length;
  const middle = (k: number): number => bands[k].startMm + bands[k].widthMm / 2;
  // Twice the axis, modulo the repeat, as a circular mean.
  const turn = (2 * Math.PI) / repeatMm;
  let x = 0;
  let y = 0;
  for (let k = 0; k < n; k++) {
    const sum = middle(k) + middle(wrap(r - k, n));
    x += Math.cos(turn * sum);
    y += Math.sin(turn * sum);
  }
  const axis = Math.atan2(y, x) / turn / 2;
  return [originUMm + axis, originUMm + axis + repeatMm / 2];
}

function distinct(values: readonly number[], nearMm: number): number[] {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.filter((value, i) => i === 0 || value - sorted[i - 1] > nearMm);
}
