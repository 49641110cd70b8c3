import { describe, expect, it } from 'vitest';
import { narrowestColumns } from '../../../src/core/rectify/narrow-bands.js';
import { DYES } from '../../support/sample-scenes.js';
import { paintStraight, type StraightScene } from '../../support/straight-cloth-painter.js';

const SCENE: StraightScene = {
  bands: [
    { colour: DYES.indigo, width: 90 },
    { colour: DYES.ivory, width: 50 },
    { colour: DYES.ochre, width: 30 },
  ],
  columns: 900,
  rows: 60,
  start: 20,
  seed: 3,
  dirt: { blur: 1, noise: 3, weave: 0.05, wander: 0.7 },
};

describe('narrowestColumns', () => {
  it('is the width of the narrowest bands', () => {
    expect(Math.abs(narrowestColumns(paintStraight(SCENE).cloth) - 30)).toBeLessThanOrEqual(2);
    const thin = {
      ...SCENE,
      bands: [...SCENE.bands, { colour: DYES.ivory, width: 60 }, { colour: DYES.madder, width: 5 }],
    };
    expect(Math.abs(narrowestColumns(paintStraight(thin).cloth) - 5)).toBeLessThanOrEqual(2);
  });

  it.each([16, 20, 23])(
    'is theirs under discs of radius %d that cover most of a band in its middle',
    (radius) => {
      // Rows are four columns high: a disc is half its radius high in rows, seven tenths of what it has.
      const motif = {
        colour: DYES.madder,
        at: 115,
        alongRows: radius / 2 / 0.7,
        drop: 0.5,
        radiusColumns: radius,
        shape: 'disc',
      } as const;
      const { cloth } = paintStraight({ ...SCENE, rows: 120, motif });
      expect(Math.abs(narrowestColumns(cloth) - 30)).toBeLessThanOrEqual(2);
    },
  );
});
