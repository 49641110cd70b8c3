import { describe, expect, it } from 'vitest';
import { compareWithTruth } from '../../scripts/benchmark/compare.js';
import { clipToPhoto } from '../../scripts/benchmark/facts.js';
import { matchColours } from '../../scripts/benchmark/match-colours.js';
import { modelFromTruth } from '../support/model-from-truth.js';
import { plainScene, stripes } from '../support/painted-scene.js';
import { paintPhoto } from '../support/photo-painter/paint-photo.js';

const base = plainScene();
const { truth } = paintPhoto({
  ...base,
  cloth: stripes(
    [
      { colour: '#2a3a63', widthMm: 9 },
      { colour: '#ebe2cb', widthMm: 4 },
      { colour: '#bd8738', widthMm: 6 },
      { colour: '#ebe2cb', widthMm: 5 },
    ],
    0.05,
  ),
  reference: { type: 'metal-mm', atMm: [0, 0], angleDeg: 30, heightMm: 0, wear: 0 },
  camera: { ...base.camera, widthPx: 500, heightPx: 400, tiltDeg: [5, 3], rollDeg: 20, k1: 0.01 },
});

describe('comparing a model with the truth', () => {
  it.each([0, 1, 2, 3])('finds no error in a faultless model listed from band %s', (startBand) => {
    for (const turned of [false, true]) {
      const found = compareWithTruth(modelFromTruth(truth, { startBand, turned }), truth);
      expect(found.scalePercent).toBeCloseTo(0, 6);
      expect(found.repeatPercent).toBeCloseTo(0, 9);
      expect(found.bandsFound).toBe(found.bandsTrue);
      expect(found.worstBandMm).toBeCloseTo(0, 9);
      expect(found.worstInstanceMm).toBeCloseTo(0, 9);
      expect(found.sharePoints).toBeCloseTo(0, 9);
      expect(found.balancedRight).toBe(true);
      expect(found.notes).toEqual(turned ? ['v points down'] : []);
    }
  });

  it('tells a wrong scale, a wrong width and a wrong share', () => {
    const scaled = compareWithTruth(modelFromTruth(truth, { scale: 1.003 }), truth);
    expect(scaled.scalePercent).toBeCloseTo(0.3, 6);
    expect(scaled.repeatPercent).toBeCloseTo(0.3, 6);
    const wide = compareWithTruth(modelFromTruth(truth, { firstBandMm: 0.7, startBand: 2 }), truth);
    expect(wide.worstBandMm).toBeCloseTo(0.7, 9);
    const model = modelFromTruth(truth);
    const colours = model.colours.map((colour, i) => ({
      ...colour,
      share: colour.share + (i === 0 ? 0.05 : i === 1 ? -0.05 : 0),
    }));
    expect(compareWithTruth({ ...model, colours }, truth).sharePoints).toBeCloseTo(5, 6);
  });

  it('is not fooled by a list read backwards', () => {
    const model = modelFromTruth(truth);
    const backwards = compareWithTruth({ ...model, bands: [...model.bands].reverse() }, truth);
    expect(backwards.worstBandMm).toBeGreaterThan(0.5);
  });

  it('gives no widths where the number of bands is wrong', () => {
    const model = modelFromTruth(truth);
    const found = compareWithTruth({ ...model, bands: model.bands.slice(1) }, truth);
    expect(found.bandsFound).toBe(3);
    expect(found.worstBandMm).toBeNull();
  });
});

describe('matching colours', () => {
  it('looks through a light that is not neutral', () => {
    // The dyes seen at 60 % exposure under a warm light: the dark ivory is nearer to ochre than to ivory.
    const dyes = ['#ebe2cb', '#bd8738', '#2a3a63'].map((hex) => ({ hex, share: 1 / 3 }));
    const seen = ['#c0a777', '#9a631d', '#212936'].map((hex) => ({ hex, share: 1 / 3 }));
    expect(matchColours(seen, dyes)).toEqual([0, 1, 2]);
  });
});

describe('clipping a segment to the photo', () => {
  it('keeps what is inside and nothing else', () => {
    expect(clipToPhoto([-10, 5], [30, 5], [20, 10])).toEqual([
      [0, 5],
      [20, 5],
    ]);
    expect(clipToPhoto([-10, -5], [30, -5], [20, 10])).toBeNull();
  });
});
