import { describe, expect, it } from 'vitest';
import { lensHeightMm } from '../../scripts/benchmark/facts.js';
import { type Score, scoreOf } from '../../scripts/benchmark/score.js';
import { tally, worstScenes } from '../../scripts/benchmark/score-table.js';
import type { BandModel } from '../../src/core/model/band-model.js';
import { modelFromTruth } from '../support/model-from-truth.js';
import { plainScene, stripes } from '../support/painted-scene.js';
import { paintPhoto } from '../support/photo-painter/paint-photo.js';
import { pinholeCamera } from '../support/photo-painter/pinhole-camera.js';

const { truth } = paintPhoto({
  ...plainScene(),
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 9 },
    { colour: '#ebe2cb', widthMm: 4 },
    { colour: '#bd8738', widthMm: 6 },
  ]),
  // 0.4 mm up under a camera 100 mm up, its marks 0.1 % too far apart.
  reference: { type: 'metal-mm', atMm: [0, 0], angleDeg: 30, heightMm: 0.4, wear: 0, stretch: 0.001 },
});
const GAIN = (1.001 * 100) / 99.6;

const scored = (model: BandModel | null, exitCode = 0): Score =>
  scoreOf(truth, { exitCode, model, seconds: 1, peakMb: 100, said: 'said so' }, 'drawn');

function withSd(model: BandModel, relative_sd: number, across_sd_mm: number): BandModel {
  return {
    ...model,
    scale: { ...model.scale!, relative_sd },
    repeat: { ...model.repeat, across_sd_mm },
    warnings: [],
  };
}

describe('the score of a scene', () => {
  it('does not count the height and the marks of a ruler as faults of the reading', () => {
    const read = scored(withSd(modelFromTruth(truth, { scale: 1 / GAIN }), 0.002, 0.05)).measured!;
    expect(read.repeatPercent).toBeCloseTo(0, 6);
    expect(read.scalePercent).toBeCloseTo(0, 6);
    expect(read.worstBandMm).toBeCloseTo(0, 6);
    // Against the true lengths they are what the standard deviation has to cover.
    expect(read.zScale).toBeCloseTo((1 / GAIN - 1) / 0.002, 6);
    expect(read.zRepeat).toBeCloseTo((19 * (1 / GAIN - 1)) / 0.05, 6);
    expect(read.firstFault).toBeNull();
    expect(read.confidentlyWrong).toBe(false);
  });

  it('knows how high the lens stood, tilted or not, and allows for the thickness of a card as its reader does', () => {
    for (const tiltDeg of [
      [0, 0],
      [14, -9],
    ] as const) {
      const scene = plainScene();
      const camera = { ...scene.camera, tiltDeg, rollDeg: 33 };
      const card = {
        type: 'card-id1',
        atMm: [0, 0],
        angleDeg: 30,
        heightMm: 0.76,
        wear: 0,
        stretch: 0.001,
      } as const;
      const { truth: own } = paintPhoto({ ...scene, camera, reference: card });
      const heightMm = pinholeCamera(camera).heightMm;
      expect(lensHeightMm(own)).toBeCloseTo(heightMm, 4);
      const model = withSd(modelFromTruth(own, { scale: 1 / 1.001 }), 0.002, 0.05);
      const { measured } = scoreOf(own, { exitCode: 0, model, seconds: 1, peakMb: 100, said: '' }, 'drawn');
      expect(measured?.repeatPercent).toBeCloseTo(0, 6);
    }
  });

  it('calls an answer far beyond its own doubt confidently wrong, unless a warning goes with it', () => {
    const sure = withSd(modelFromTruth(truth, { scale: 1.03 }), 0.001, 0.02);
    expect(scored(sure).measured).toMatchObject({ firstFault: 'reference', confidentlyWrong: true });
    const warned = { ...sure, warnings: [{ code: 'tilt-unsure', message: '' }] };
    expect(scored(warned).measured?.confidentlyWrong).toBe(false);
    const tilted = { ...sure, warnings: [{ code: 'tilt', message: '' }] };
    expect(scored(tilted).measured?.confidentlyWrong).toBe(true);
  });

  it('calls a wrong number of bands confidently wrong', () => {
    const model = withSd(modelFromTruth(truth, { scale: 1 / GAIN }), 0.002, 0.05);
    const fewer = { ...model, bands: model.bands.slice(1) };
    expect(scored(fewer).measured).toMatchObject({ firstFault: 'bands', confidentlyWrong: true });
  });
});

describe('the tally of scenes', () => {
  const good = scored(withSd(modelFromTruth(truth, { scale: 1 / GAIN }), 0.01, 0.19));
  const off = scored(withSd(modelFromTruth(truth, { scale: 1.03 }), 0.01, 0.19));
  const refused = scored(null, 4);

  it('counts refused scenes as failed', () => {
    const t = tally([good, off, refused]);
    expect([t.due, t.measured, t.repeatWithin, t.bandsRight]).toEqual([3, 2, 1, 2]);
    expect(t.repeatMedian).toBeCloseTo(100 * (1.03 * GAIN - 1), 6);
  });

  it('gives the root mean square of the normalised errors', () => {
    const { z } = tally([good, off, refused]);
    expect(z.repeat.count).toBe(2);
    expect(z.repeat.sd).toBeCloseTo(Math.hypot(100 * (1 / GAIN - 1), 3) / Math.SQRT2, 6);
    expect(z.repeat.beyond2).toBe(1);
    expect(z.repeat.beyond5).toBe(0);
    expect(z.repeat.sdWithin5).toBe(z.repeat.sd);
    // 3 % off at a deviation of a tenth of a percent lies far beyond.
    const gross = scored(withSd(modelFromTruth(truth, { scale: 1.03 }), 0.001, 0.019));
    const mixed = tally([good, gross]).z.repeat;
    expect(mixed.beyond5).toBe(1);
    expect(mixed.sdWithin5).toBeCloseTo(100 * Math.abs(1 / GAIN - 1), 6);
    expect(mixed.sd).toBeGreaterThan(15);
  });

  it('names the worst scenes with the first stage that is wrong', () => {
    const lines = worstScenes([good, refused, off], 3);
    expect(lines).toHaveLength(2);
    expect(lines[0]).toContain('exit 4 instead of 0: said so');
    expect(lines[1]).toContain('first wrong: reference');
  });
});
