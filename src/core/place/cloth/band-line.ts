import { UsageError } from '../../base/outcome.js';

/**
 * The stripes along one axis of the cloth as a chain of bands: band k reaches from edgesMm[k] to edgesMm[k + 1]. Long enough for
 * every place that is asked for, so that no question needs a modulus.
 */
export interface BandLine {
  /** Ascending, mm, cloth frame. */
  readonly edgesMm: Float64Array;
  /** Index of the band in the repeat, one fewer than edges. */
  readonly band: Int32Array;
  /** Index of its colour among the model's. */
  readonly colour: Int32Array;
  /** Number of its repeat. */
  readonly repeat: Int32Array;
  /** Length after which the chain comes again; null where the actual stripes of a photo stand in it. */
  readonly periodMm: number | null;
  /** The part that was seen, mm; null for a chain that comes again for ever. */
  readonly seenMm: readonly [number, number] | null;
}

/** One repeat as a chain needs it: widths in mm in order of growing u, colour indices, u of the first band's start. */
export interface BandCycle {
  readonly startMm: number;
  readonly widthsMm: readonly number[];
  readonly colours: readonly number[];
}

/** A stripe of the actual cloth: `band` is its index in the cycle. */
export interface SeenBand {
  readonly band: number;
  readonly repeat: number;
  readonly startMm: number;
  readonly endMm: number;
}

/** The mean repeat laid end to end over [fromMm, toMm]. Throws UsageError for a width or reach that makes no sense. */
export function repeatedBands(cycle: BandCycle, fromMm: number, toMm: number): BandLine {
  const periodMm = checkedPeriod(cycle, fromMm, toMm);
  const n = cycle.widthsMm.length;
  const first = Math.floor((fromMm - cycle.startMm) / periodMm) - 1;
  const last = Math.ceil((toMm - cycle.startMm) / periodMm) + 1;
  const chain = emptyChain((last - first) * n);
  let k = 0;
  for (let turn = first; turn < last; turn++) {
    let at = cycle.startMm + turn * periodMm;
    for (let b = 0; b < n; b++, k++) {
      put(chain, k, at, b, cycle.colours[b], turn);
      at += cycle.widthsMm[b];
    }
  }
  chain.edgesMm[k] = cycle.startMm + last * periodMm;
  return { ...chain, periodMm, seenMm: null };
}

/**
 * The stripes that a photo showed, carried on beyond it by mean repeats so that the chain covers [fromMm, toMm]. `seen` in order,
 * touching each other; their outermost edges are where the known cloth ends.
 */
export function seenBands(
  seen: readonly SeenBand[],
  cycle: BandCycle,
  fromMm: number,
  toMm: number,
): BandLine {
  const periodMm = checkedPeriod(cycle, fromMm, toMm);
  if (seen.length === 0) throw new UsageError('expected at least one stripe, received none', 'seen');
  const n = cycle.widthsMm.length;
  const before: SeenBand[] = [];
  let { band, repeat, startMm } = seen[0];
  while (startMm > fromMm - periodMm) {
    band = band === 0 ? n - 1 : band - 1;
    if (band === n - 1) repeat--;
    before.unshift({ band, repeat, startMm: startMm - cycle.widthsMm[band], endMm: startMm });
    startMm -= cycle.widthsMm[band];
  }
  const after: SeenBand[] = [];
  const last = seen[seen.length - 1];
  let endMm = last.endMm;
  ({ band, repeat } = last);
  while (endMm < toMm + periodMm) {
    band = band === n - 1 ? 0 : band + 1;
    if (band === 0) repeat++;
    after.push({ band, repeat, startMm: endMm, endMm: endMm + cycle.widthsMm[band] });
    endMm += cycle.widthsMm[band];
  }
  const all = [...before, ...seen, ...after];
  const chain = emptyChain(all.length);
  all.forEach((one, k) => {
    put(chain, k, one.startMm, one.band, cycle.colours[one.band], one.repeat);
  });
  chain.edgesMm[all.length] = all[all.length - 1].endMm;
  return { ...chain, periodMm: null, seenMm: [seen[0].startMm, last.endMm] };
}

/** Index of the band that holds u; at an edge the band above it. Ends of the chain are carried on by their band. */
export function bandIndexAt({ edgesMm, band }: BandLine, uMm: number): number {
  let low = 0;
  let high = band.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (edgesMm[middle] <= uMm) low = middle;
    else high = middle - 1;
  }
  return low;
}

type Chain = Pick<BandLine, 'edgesMm' | 'band' | 'colour' | 'repeat'>;

const emptyChain = (bands: number): Chain => ({
  edgesMm: new Float64Array(bands + 1),
  band: new Int32Array(bands),
  colour: new Int32Array(bands),
  repeat: new Int32Array(bands),
});

function put(chain: Chain, k: number, startMm: number, band: number, colour: number, repeat: number): void {
  chain.edgesMm[k] = startMm;
  chain.band[k] = band;
  chain.colour[k] = colour;
  chain.repeat[k] = repeat;
}

/** Bands beyond this in one chain are a mistake in units, and would fill the memory. */
const MOST_BANDS = 1e6;

function checkedPeriod({ widthsMm, colours }: BandCycle, fromMm: number, toMm: number): number {
  const periodMm = widthsMm.reduce((sum, width) => sum + width, 0);
  if (!widthsMm.every((width) => width > 0) || !Number.isFinite(periodMm) || widthsMm.length === 0)
    throw new UsageError(`expected lengths above 0 mm, received ${widthsMm.join(', ')}`, 'widthsMm');
  if (colours.length !== widthsMm.length)
    throw new UsageError(
      `expected one for each of ${widthsMm.length} bands, received ${colours.length}`,
      'colours',
    );
  if (!(toMm >= fromMm) || ((toMm - fromMm) / periodMm) * widthsMm.length > MOST_BANDS)
    throw new UsageError(`expected a stretch of cloth, received ${fromMm} to ${toMm} mm`, 'reach');
  return periodMm;
}
