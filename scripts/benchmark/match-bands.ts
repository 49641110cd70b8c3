/** A band as both sides know it: its width, and an index into the true colours. */
export interface KnownBand {
  readonly widthMm: number;
  readonly colour: number;
}

export interface BandMatch {
  /** Measured band i is true band (i + turn) mod n. */
  readonly turn: number;
  readonly errorsMm: readonly number[];
  readonly wrongColours: number;
}

/** A wrong colour weighs as much as this much width: order is told by colour first. */
const WRONG_COLOUR_MM = 1000;

/** Best cyclic match of two lists of equal length; null when the lengths differ. */
export function matchBands(measured: readonly KnownBand[], truth: readonly KnownBand[]): BandMatch | null {
  const n = truth.length;
  if (measured.length !== n || n === 0) return null;
  let best: BandMatch | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < n; turn++) {
    const partner = (i: number) => truth[(i + turn) % n];
    const errorsMm = measured.map((band, i) => Math.abs(band.widthMm - partner(i).widthMm));
    const wrongColours = measured.filter((band, i) => band.colour !== partner(i).colour).length;
    const cost = wrongColours * WRONG_COLOUR_MM + errorsMm.reduce((sum, error) => sum + error, 0);
    if (cost < least) {
      least = cost;
      best = { turn, errorsMm, wrongColours };
    }
  }
  return best;
}

/** Width of one instance, by its place in the row of all instances (repeat * bands + band). */
export interface PlacedWidth {
  readonly place: number;
  readonly widthMm: number;
}

/**
 * Largest width error over instances, the two rows being slid by whole repeats until they agree best.
 * Null when they share less than half of the shorter row.
 */
export function worstInstance(
  measured: readonly PlacedWidth[],
  truth: readonly PlacedWidth[],
  bandsPerRepeat: number,
): number | null {
  const trueAt = new Map(truth.map(({ place, widthMm }) => [place, widthMm]));
  const least = Math.max(1, Math.min(measured.length, truth.length) / 2);
  let worst: number | null = null;
  let bestMean = Number.POSITIVE_INFINITY;
  const places = truth.map(({ place }) => place);
  const span = Math.max(...places) - Math.min(...places) + measured.length;
  for (let slide = -span * 2; slide <= span * 2; slide++) {
    const errors: number[] = [];
    for (const { place, widthMm } of measured) {
      const partner = trueAt.get(place + slide * bandsPerRepeat);
      if (partner !== undefined) errors.push(Math.abs(widthMm - partner));
    }
    if (errors.length < least) continue;
    const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
    if (mean < bestMean) {
      bestMean = mean;
      worst = Math.max(...errors);
    }
  }
  return worst;
}
