import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/core/colour/ciede2000.js';
import { motifFacts, readPrint } from '../../../src/core/pipeline/motif-facts.js';
import { NO_MOTIFS } from '../../../src/core/stripes/motif-reading.js';
import type { StripeSummary } from '../../../src/core/stripes/stripe-summary.js';
import { arrow, latticePrint, MADDER, printedSheet } from '../../support/printed-sheet.js';

const input = printedSheet({
  print: latticePrint({ alongMm: 31.4, drop: 0.5, atUMm: 10.5, atVMm: 4.2 }, () => arrow(6)),
});

const idOf = (colour: number): string => 'ABCDE'[colour];

/** The painted sheet's stripes as a measurement would tell them; the print shows on the first band. */
const summary: StripeSummary = {
  repeat: {
    across_mm: input.repeatMm,
    across_sd_mm: 0.02,
    across_reading_sd_mm: 0.01,
    repeats_seen: 4,
    confidence: 1,
    alternatives: [],
    along_mm: null,
    along_sd_mm: null,
    drop_fraction: null,
  },
  colours: input.colours.map(({ lab }, i) => ({ id: idOf(i), srgb: '#000000', lab, name: '', share: 0.2 })),
  bands: input.bands.map((band, i) => ({
    id: `b${i + 1}`,
    colour: idOf(band.colour),
    start_mm: band.startMm,
    width_mm: band.widthMm,
    width_sd_mm: null,
    width_mean_sd_mm: null,
    width_min_mm: null,
    width_max_mm: null,
    edge_sd_mm: null,
    mix: [
      { colour: idOf(band.colour), share: i === 0 ? 0.9 : 1 },
      ...(i === 0 ? [{ colour: idOf(MADDER), share: 0.1 }] : []),
    ],
  })),
  instances: input.stretches.map((s) => ({
    band: `b${s.band + 1}`,
    repeat: 0,
    start_mm: s.startMm,
    end_mm: s.endMm,
    width_mm: s.endMm - s.startMm,
    width_sd_mm: null,
    whole: true,
  })),
  symmetry: {
    balanced: false,
    balance_score: 0.8,
    mirror_axes_mm: [],
    directional: null,
    direction_score: null,
  },
  originUMm: 0,
  shadedBands: [],
  scatterMm: null,
  leftOutPercent: 0,
};

describe('the print in the band model', () => {
  it('carries what was read under the names of the contract, colours by id', () => {
    const print = readPrint(summary, () => input.sheet, 0.001);
    const facts = motifFacts(print, summary);
    expect(facts.repeat.across_mm).toBe(summary.repeat.across_mm);
    expect(Math.abs((facts.repeat.along_mm ?? 0) - 31.4)).toBeLessThan(0.15);
    expect(facts.repeat.along_sd_mm).toBeGreaterThanOrEqual(0.0314);
    expect(Math.abs((facts.repeat.drop_fraction ?? 0) - 0.5)).toBeLessThan(0.03);
    expect(facts.motifs.map((m) => [m.mirrors_across, m.mirrors_along])).toEqual([[true, false]]);
    // Colours are named anew, by falling share.
    const printed = facts.colours.find(({ id }) => id === facts.motifs[0].colour);
    expect(ciede2000(printed?.lab ?? [0, 0, 0], summary.colours[MADDER].lab)).toBeLessThan(2);
    expect(facts.colours.map(({ share }) => share)).toEqual(
      facts.colours.map(({ share }) => share).sort((p, q) => q - p),
    );
    expect(facts.intrusions.length).toBeGreaterThan(0);
    for (const { instance } of facts.intrusions) expect(summary.instances[instance].band).toBe('b1');
    expect(facts.symmetry).toMatchObject({ balanced: false, balance_score: 0.8, directional: true });
  });

  it('leaves the summary as it is where no band shows a colour not its own', () => {
    const plain = { ...summary, bands: summary.bands.map((b) => ({ ...b, mix: b.mix.slice(0, 1) })) };
    const facts = motifFacts(
      readPrint(plain, () => printedSheet({ print: () => null }).sheet, 0.001),
      plain,
    );
    expect(facts).toEqual({
      colours: plain.colours,
      bands: plain.bands,
      repeat: summary.repeat,
      motifs: [],
      intrusions: [],
      symmetry: summary.symmetry,
    });
  });

  it('names the cell across of a print wider than the repeat of the stripes, and its drop', () => {
    const wider = { ...NO_MOTIFS, alongMm: 30, acrossRepeats: 2, dropFraction: 0.5 };
    expect(motifFacts(wider, summary).repeat).toMatchObject({
      along_mm: 30,
      drop_fraction: 0.5,
      motif_across_mm: 2 * (summary.repeat.across_mm ?? 0),
    });
    expect(motifFacts(NO_MOTIFS, summary).repeat).not.toHaveProperty('motif_across_mm');
  });
});
