import { describe, expect, it } from 'vitest';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import { raster } from '../../../src/core/raster/raster.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 1600;
const HEIGHT = 1200;
const PX_PER_MM = 5;
const INDIGO = [42, 58, 99];
const IVORY = [235, 226, 203];
const OCHRE = [189, 135, 56];
const TABLE = [92, 70, 52];
const BANDS = [
  { colour: INDIGO, endMm: 12 },
  { colour: IVORY, endMm: 17 },
  { colour: OCHRE, endMm: 20 },
  { colour: IVORY, endMm: 30 },
];

interface Edge {
  /** Rise of the edge for each px to the right. */
  readonly slope: number;
  readonly selvageMm: number;
  readonly selvage: readonly number[];
}

/** Skew as measured on a scan of upright stripes that end near its low edge. */
function skewOf(edge: Edge | null): number | null {
  const random = seededRandom(5);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const grain = 3 * random.gaussian();
      const rgb = colourAt(x + 0.5, y + 0.5, edge);
      for (let c = 0; c < 3; c++) {
        data[3 * (y * WIDTH + x) + c] = Math.max(0, Math.min(255, Math.round(rgb[c] + grain)));
      }
    }
  }
  const outcome = measureCloth(
    {
      picture: raster(WIDTH, HEIGHT, 3, data),
      photoPerPicture: 1,
      widthPx: WIDTH,
      heightPx: HEIGHT,
      focal35Mm: null,
    },
    { kind: 'density', pxPerMm: PX_PER_MM },
  );
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.model.stripes.skew_percent;
}

function colourAt(x: number, y: number, edge: Edge | null): readonly number[] {
  if (edge) {
    const beyondMm = (y - 1020 + edge.slope * (x - WIDTH / 2)) / PX_PER_MM;
    if (beyondMm > edge.selvageMm) return TABLE;
    if (beyondMm > 0) return edge.selvage;
  }
  const u = (x / PX_PER_MM) % 30;
  return (BANDS.find(({ endMm }) => u < endMm) as (typeof BANDS)[number]).colour;
}

// ASTM D3882: 100 S / W, S along the selvage, W square to it. A slope of the selvage against stripes that run square to level is that.
describe('skew against a selvage that the stripes run into', () => {
  it.each([0.02, -0.02, 0.008, 0])('is 100 times its slope: %d', (slope) => {
    const skew = skewOf({ slope, selvageMm: 8, selvage: [200, 205, 210] });
    expect(skew).not.toBeNull();
    expect(Math.abs((skew as number) - 100 * slope)).toBeLessThan(0.08);
  });

  it('is found though some bands have the colour of the selvage', () => {
    const skew = skewOf({ slope: 0.015, selvageMm: 8, selvage: IVORY });
    expect(Math.abs((skew as number) - 1.5)).toBeLessThan(0.1);
  });

  it('is not told of cloth that was cut, nor where no edge is in view', () => {
    expect(skewOf({ slope: 0.02, selvageMm: 0, selvage: TABLE })).toBeNull();
    expect(skewOf(null)).toBeNull();
  });

  it('is not told of a strip as wide as a ruler', () => {
    expect(skewOf({ slope: 0.02, selvageMm: 28, selvage: [200, 205, 210] })).toBeNull();
  });
});
