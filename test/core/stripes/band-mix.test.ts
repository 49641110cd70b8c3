import { describe, expect, it } from 'vitest';
import { bandMix } from '../../../src/core/stripes/band-mix.js';
import { readStripes } from '../../../src/core/stripes/read-stripes.js';
import { paintStraight, type StraightScene } from '../../support/straight-cloth-painter.js';

const SCENE: StraightScene = {
  bands: [
    { colour: '#2a3a63', width: 60 },
    { colour: '#ebe2cb', width: 130 },
    { colour: '#bd8738', width: 20 },
  ],
  columns: 900,
  rows: 400,
  start: 10,
  seed: 6,
  dirt: { noise: 2, weave: 0.04, blur: 1.2 },
};

function mixOf(scene: StraightScene) {
  const { cloth } = paintStraight(scene);
  const outcome = readStripes(cloth, 'stripe');
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  const reading = outcome.value;
  const n = reading.bandsPerRepeat ?? 0;
  const mix = bandMix(cloth, reading, (s) => reading.places[s]?.band ?? null, n);
  return { reading, mix };
}

describe('bandMix', () => {
  it.each([
    [30, 0.01],
    [14, 0.01],
    [9, 0.004],
  ])('shares out discs of radius %d columns by their area, rims and all', (radiusColumns, allowed) => {
    const motif = {
      colour: '#8c3a2c',
      at: 125,
      alongRows: 25,
      drop: 0.5,
      radiusColumns,
      shape: 'disc',
    } as const;
    const { reading, mix } = mixOf({ ...SCENE, motif });
    // One disc to each 25 rows of 4 columns' height on 130 columns less the margins of 4 left out.
    const area = (Math.PI * radiusColumns ** 2) / (25 * 4 * (130 - 8));
    const wide = mix.mixes.find((m) => m.length > 1);
    expect(mix.motifColours).toHaveLength(1);
    expect(wide?.reduce((s, m) => s + m.share, 0)).toBeCloseTo(1, 9);
    const printed = wide?.find((m) => m.colour === reading.palette.length)?.share ?? 0;
    expect(Math.abs(printed - area)).toBeLessThan(allowed);
    expect(mix.mixes.filter((m) => m.length > 1)).toHaveLength(1);
  });

  it('knows a motif in a colour of the bands', () => {
    const motif = {
      colour: '#2a3a63',
      at: 125,
      alongRows: 25,
      drop: 0,
      radiusColumns: 20,
      shape: 'disc',
    } as const;
    const { reading, mix } = mixOf({ ...SCENE, motif });
    expect(mix.motifColours).toHaveLength(0);
    const wide = mix.mixes.find((m) => m.length > 1);
    expect(reading.palette[wide?.[1].colour ?? 0].lab[0]).toBeLessThan(30);
  });

  it('sees nothing on bare bands', () => {
    const { mix } = mixOf(SCENE);
    expect(mix.motifColours).toHaveLength(0);
    for (const m of mix.mixes) expect(m).toEqual([{ colour: m[0].colour, share: 1 }]);
  });

  it('finds bars two rows high, which are long across', () => {
    const { cloth } = paintStraight(SCENE);
    const { data, width, height } = cloth.picture;
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        // On the wide band alone: it runs from 70 to 200 of each repeat of 210, which starts at 10.
        if (y % 20 < 2 && (x + 200) % 210 > 80 && (x + 200) % 210 < 170)
          data.set([140, 58, 44], 3 * (y * width + x));
      }
    const outcome = readStripes(cloth, 'stripe');
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const reading = outcome.value;
    const { motifColours, mixes } = bandMix(
      cloth,
      reading,
      (s) => reading.places[s]?.band ?? null,
      reading.bandsPerRepeat ?? 0,
    );
    expect(motifColours).toHaveLength(1);
    expect(Math.max(...mixes.map((mix) => mix[1]?.share ?? 0))).toBeCloseTo(((2 / 20) * 89) / 122, 1);
  });
});
