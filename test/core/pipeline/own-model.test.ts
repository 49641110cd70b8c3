import { beforeEach, describe, expect, it, vi } from 'vitest';
import { UsageError } from '../../../src/core/base/outcome.js';
import { formatBandModel } from '../../../src/core/model/format-band-model.js';
import { nameColours } from '../../../src/core/model/name-colours.js';
import { parseBandModel } from '../../../src/core/model/parse-band-model.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { raster } from '../../../src/core/raster/raster.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

vi.mock('../../../src/core/model/name-colours.js', { spy: true });

/** A scan at 5 px/mm of bands of 12 and 8 mm, its pixels made here: there is no file. */
function scan(): Photo {
  const [width, height] = [800, 600];
  const random = seededRandom(5);
  const data = new Uint8Array(3 * width * height).map((_, i) => {
    const x = Math.floor(i / 3) % width;
    const [ink, ground] = [
      [42, 58, 99],
      [235, 226, 203],
    ];
    return (x % 100 < 60 ? ink : ground)[i % 3] + Math.round(2 * random.gaussian());
  });
  return {
    picture: raster(width, height, 3, data),
    photoPerPicture: 1,
    widthPx: width,
    heightPx: height,
    focal35Mm: null,
  };
}

const measure = () => measureCloth(scan(), { kind: 'density', pxPerMm: 5 });

describe('the model of pixels that came without a file', () => {
  beforeEach(() => {
    vi.mocked(nameColours).mockReset();
  });

  it('has empty words for the file, and is read back as it was written', async () => {
    const outcome = measure();
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const { model } = outcome.value;
    expect(model.repeat.across_mm).toBeCloseTo(20, 1);
    expect(model.photo).toEqual({ file: '', sha256: '', width_px: 800, height_px: 600 });
    const again = await parseBandModel(formatBandModel(model));
    expect(again.ok && again.value.photo).toEqual(model.photo);
  });

  it('is, where it is not valid, a fault of the program, not of its caller', () => {
    vi.mocked(nameColours).mockImplementation((model) => ({ ...model, colours: [] }));
    let thrown: unknown;
    try {
      measure();
    } catch (error) {
      thrown = error;
    }
    expect(thrown).toBeInstanceOf(Error);
    expect(thrown).not.toBeInstanceOf(UsageError);
    expect(String(thrown)).toMatch(/the measured model is not valid: colours/);
  });
});
