import { cie76 } from '../colour/cie76.js';
import { colourFacts } from './colour-facts.js';
import type { MotifReading } from './motif-reading.js';
import type { StripeSummary } from './stripe-summary.js';

export interface PrintedSummary {
  readonly summary: StripeSummary;
  /** Id in it of a colour of the print, by index; of the nearest where that proved a mixture; null where there is none. */
  readonly idOf: (colour: number) => string | null;
}

/** The summary with what each band shows, and so the colours' shares, as the print's own reading has them. */
export function printedSummary(summary: StripeSummary, { shares }: MotifReading): PrintedSummary {
  const { colours, bands } = summary;
  if (shares === null) return { summary, idOf: (colour) => colours[colour].id };
  const at = new Map(colours.map(({ id }, i) => [id, i]));
  const { facts, idOf, isUsed } = colourFacts(
    shares.colours,
    bands.map((band, b) => ({ widthMm: band.width_mm, mix: shares.mixes[b] })),
  );
  return {
    summary: {
      ...summary,
      colours: facts,
      bands: bands.map((band, b) => ({
        ...band,
        colour: idOf(at.get(band.colour) ?? 0),
        mix: shares.mixes[b].map(({ colour, share }) => ({ colour: idOf(colour), share })),
      })),
    },
    idOf: (colour) => (isUsed(colour) ? idOf(colour) : nearestOfPrint(shares, colour, idOf)),
  };
}

function nearestOfPrint(
  { colours, mixes }: NonNullable<MotifReading['shares']>,
  colour: number,
  idOf: (colour: number) => string,
): string | null {
  const print = [...new Set(mixes.flatMap((mix) => mix.slice(1).map((part) => part.colour)))];
  if (print.length === 0) return null;
  const off = (c: number): number => cie76(colours[c], colours[colour]);
  return idOf(print.reduce((p, q) => (off(q) < off(p) ? q : p)));
}
