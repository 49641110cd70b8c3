import type { BandModel } from '../model/band-model.js';
import type { ClothSheet } from '../rectify/cloth-picture.js';
import { mayHaveFaintPrint, THIN_SHEET } from '../stripes/motif-faint.js';
import type { MotifInput } from '../stripes/motif-input.js';
import { type MotifReading, NO_MOTIFS, readMotifs } from '../stripes/motif-reading.js';
import { printedSummary } from '../stripes/printed-summary.js';
import type { StripeSummary } from '../stripes/stripe-summary.js';

/** The rectified picture (u from the model's origin), made when it is needed; `timesCoarser`: 1 for all there is. */
export type SheetMaker = (timesCoarser: number) => ClothSheet;

/** Looks for a print, if bands show colours not their own or spots lie all over them. */
export function readPrint(summary: StripeSummary, sheet: SheetMaker, scaleRelativeSd: number): MotifReading {
  const colourAt = new Map(summary.colours.map((colour, i) => [colour.id, i]));
  const bandAt = new Map(summary.bands.map((band, i) => [band.id, i]));
  const index = (id: string): number => colourAt.get(id) ?? 0;
  const foreign = summary.bands.flatMap((band) =>
    band.mix.filter((part) => part.colour !== band.colour).map((part) => index(part.colour)),
  );
  const on = (timesCoarser: number): MotifInput => ({
    sheet: sheet(timesCoarser),
    repeatMm: summary.repeat.across_mm,
    colours: summary.colours,
    bands: summary.bands.map((band) => ({
      colour: index(band.colour),
      startMm: band.start_mm,
      widthMm: band.width_mm,
    })),
    stretches: summary.instances.map((one) => ({
      band: bandAt.get(one.band) ?? 0,
      startMm: one.start_mm,
      endMm: one.end_mm,
    })),
    printColours: [...new Set(foreign)],
    scaleRelativeSd,
  });
  return foreign.length > 0 || mayHaveFaintPrint(on(THIN_SHEET)) ? readMotifs(on(1)) : NO_MOTIFS;
}

/** The fields of the band model that a print changes or fills. */
export function motifFacts(
  print: MotifReading,
  stripes: StripeSummary,
): Pick<BandModel, 'repeat' | 'motifs' | 'intrusions' | 'symmetry' | 'colours' | 'bands'> {
  const { summary, idOf } = printedSummary(stripes, print);
  const { repeat, symmetry, colours, bands } = summary;
  return {
    colours,
    bands,
    repeat: {
      ...repeat,
      along_mm: print.alongMm,
      along_sd_mm: print.alongSdMm,
      drop_fraction: print.dropFraction,
      ...(print.acrossRepeats === null || repeat.across_mm === null
        ? {}
        : { motif_across_mm: print.acrossRepeats * repeat.across_mm }),
    },
    motifs: print.motifs.flatMap((motif) => {
      const colour = idOf(motif.colour);
      if (colour === null) return [];
      return {
        colour,
        along_mm: motif.alongMm,
        across_mm: motif.acrossMm,
        extent_mm: motif.extentMm,
        mirrors_across: motif.mirrorsAcross,
        mirrors_along: motif.mirrorsAlong,
      };
    }),
    intrusions: print.intrusions.map((one) => ({
      instance: one.stretch,
      edge: one.edge,
      along_from_mm: one.alongFromMm,
      along_to_mm: one.alongToMm,
      depth_mm: one.depthMm,
    })),
    symmetry: {
      ...symmetry,
      directional: print.directional,
      direction_score: print.directionScore,
      ...symmetryOf(print),
    },
  };
}

/** Fields added to the contract for prints: absent where nothing was found. */
function symmetryOf({ symmetry, directional, heavyEnd }: MotifReading): Partial<BandModel['symmetry']> {
  if (symmetry === null) return {};
  const { halfTurn, mirrorAlong, mirrorAcross } = symmetry;
  return {
    half_turn: halfTurn,
    mirror_along: mirrorAlong,
    mirror_across: mirrorAcross,
    ...verdictOf(symmetry, directional),
    heavy_end: heavyEnd,
  };
}

/** What may be done with a piece: turned round, mirrored end for end, or neither. */
function verdictOf(
  { halfTurn, mirrorAlong }: NonNullable<MotifReading['symmetry']>,
  directional: boolean | null,
): Pick<BandModel['symmetry'], 'verdict' | 'verdict_confidence'> {
  if (halfTurn.same) return { verdict: 'two-way', verdict_confidence: halfTurn.confidence };
  if (directional === null) {
    // The nearer answer to the open question is the less sure of the two.
    return { verdict: null, verdict_confidence: Math.min(halfTurn.confidence, mirrorAlong.confidence) };
  }
  return mirrorAlong.same
    ? { verdict: 'mirror-symmetrical', verdict_confidence: mirrorAlong.confidence }
    : { verdict: 'one-way', verdict_confidence: Math.min(halfTurn.confidence, mirrorAlong.confidence) };
}
