import { describe, expect, it } from 'vitest';
import { NO_HINTS, type StripeHints } from '../../../src/core/base/request.js';
import { measureCloth } from '../../../src/core/pipeline/measure-cloth.js';
import type { MeasuredCloth } from '../../../src/core/pipeline/measured-cloth.js';
import type { Photo } from '../../../src/core/raster/photo.js';
import { raster } from '../../../src/core/raster/raster.js';
import { overlayDrawing } from '../../../src/core/report/overlay-drawing.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const WIDTH = 1600;
const HEIGHT = 1200;
const PX_PER_MM = 5;
const UPRIGHT = [12, 5, 3, 10];
const LEVEL = [7, 6, 5, 4];
const COLOURS = [
  [42, 58, 99],
  [235, 226, 203],
  [189, 135, 56],
  [235, 226, 203],
] as const;

/** Colour of bands of these widths (mm), 4 a repeat, at a place across them. */
function bandColour(uMm: number, widths: readonly number[]): readonly number[] {
  const repeat = widths.reduce((sum, w) => sum + w, 0);
  const at = uMm - repeat * Math.floor(uMm / repeat);
  const ends = widths.map((_, k) => widths.slice(0, k + 1).reduce((sum, w) => sum + w, 0));
  return COLOURS[
    Math.max(
      0,
      ends.findIndex((end) => at < end),
    )
  ];
}

/** A scan of two cloths side by side: upright stripes on the left three fifths, level ones on the right. */
const TWO_CLOTHS = scan((x, y) =>
  x < 960 ? bandColour(x / PX_PER_MM, UPRIGHT) : bandColour(y / PX_PER_MM, LEVEL),
);

/** A check of the two: the level stripes have more edges. */
const CHECK = scan((x, y) => {
  const level = bandColour(y / PX_PER_MM, LEVEL);
  return bandColour(x / PX_PER_MM, UPRIGHT).map((v, c) => 0.5 * v + 0.5 * level[c]);
});

function scan(colour: (x: number, y: number) => readonly number[]): Photo {
  const random = seededRandom(3);
  const data = new Uint8Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++) {
      const rgb = colour(x + 0.5, y + 0.5);
      const grain = 3 * random.gaussian();
      for (let c = 0; c < 3; c++) {
        data[3 * (y * WIDTH + x) + c] = Math.max(0, Math.min(255, Math.round(rgb[c] + grain)));
      }
    }
  }
  const picture = raster(WIDTH, HEIGHT, 3, data);
  return { picture, photoPerPicture: 2, widthPx: 2 * WIDTH, heightPx: 2 * HEIGHT, focal35Mm: null };
}

function measured(hints: Partial<StripeHints>, photo = TWO_CLOTHS): MeasuredCloth {
  // Photo px are half of picture px here, so that one is not taken for the other.
  const density = { kind: 'density', pxPerMm: 2 * PX_PER_MM } as const;
  const outcome = measureCloth(photo, density, { hints: { ...NO_HINTS, ...hints } });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
}

const LEFT = { x: 40, y: 60, width: 1840, height: 2280 };
const RIGHT = { x: 1960, y: 60, width: 1200, height: 2280 };

describe('a person helps', { timeout: 30_000 }, () => {
  it.each([
    [LEFT, 90, 30],
    [RIGHT, 0, 22],
  ])('only the region is read: %j', (region, directionDeg, repeatMm) => {
    const { model, marks } = measured({ region });
    expect(model.repeat.across_mm).toBeCloseTo(repeatMm, 1);
    const off = Math.abs(model.stripes.direction_deg! - directionDeg);
    expect(Math.min(off, 180 - off)).toBeLessThan(0.3);
    for (const [x, y] of marks.edges.flat()) {
      expect(x).toBeGreaterThan(region.x - 4);
      expect(x).toBeLessThan(region.x + region.width + 4);
      expect(y).toBeGreaterThan(region.y - 4);
      expect(y).toBeLessThan(region.y + region.height + 4);
    }
    expect(model.given).toEqual({
      direction_deg: null,
      region_px: [region.x, region.y, region.width, region.height],
      bands: null,
    });
  });

  it('the stripes that run as given come first, though others show more', () => {
    expect(measured({}, CHECK).model.repeat.across_mm).toBeCloseTo(22, 0);
    const upright = measured({ directionDeg: 87 }, CHECK).model;
    expect(upright.repeat.across_mm).toBeCloseTo(30, 0);
    expect(upright.check?.repeat.across_mm).toBeCloseTo(22, 0);
    expect(upright.given).toMatchObject({ direction_deg: 87, region_px: null });
  });

  it('a direction in which nothing runs is refused with what was meant', () => {
    const density = { kind: 'density', pxPerMm: 2 * PX_PER_MM } as const;
    const hints = { ...NO_HINTS, directionDeg: 45 };
    const outcome = measureCloth(TWO_CLOTHS, density, { hints });
    expect(outcome).toMatchObject({
      ok: false,
      refusal: {
        reason: 'no-stripes',
        found: expect.stringMatching(/near the direction given \(45 degrees\)/),
      },
    });
  });

  it('the number of bands is taken, or a warning says that it does not fit', () => {
    const twice = measured({ region: LEFT, bands: 8 }).model;
    expect(twice.bands).toHaveLength(8);
    expect(twice.repeat.across_mm).toBeCloseTo(60, 1);
    expect(twice.warnings.map((one) => one.code)).not.toContain('bands-not-found');
    const wrong = measured({ region: LEFT, bands: 5 }).model;
    expect(wrong.bands).toHaveLength(4);
    const warning = wrong.warnings.find((one) => one.code === 'bands-not-found');
    expect(warning?.message).toMatch(
      /^No repeat of 5 bands fits .* the one found has 4\. .*a part of the photo/,
    );
    expect(warning?.settings).toEqual(['bands', 'region']);
  });

  it('two points near each other tell that the scale is unsure, far ones do not', () => {
    const codes = (lengthPx: number): readonly string[] => {
      const request = {
        kind: 'points',
        from: [200, 300],
        to: [200 + lengthPx, 300],
        lengthMm: lengthPx / (2 * PX_PER_MM),
      } as const;
      const outcome = measureCloth(TWO_CLOTHS, request, { hints: { ...NO_HINTS, region: LEFT } });
      if (!outcome.ok) throw new Error(outcome.refusal.found);
      return outcome.value.model.warnings.map(({ code }) => code);
    };
    // Two ends, each pointed at to a px of the picture.
    expect(codes(40)).toContain('scale-unsure');
    expect(codes(1200)).not.toContain('scale-unsure');
  });

  it('the overlay shows what was given, and nothing where all was found', () => {
    const given = measured({ region: LEFT, directionDeg: 88, bands: 4 });
    const draw = ({ model, marks }: MeasuredCloth) => overlayDrawing(model, marks, 'mm', 800, 600, 0.25).svg;
    expect(given.marks.region).toEqual([
      [40, 60],
      [1880, 60],
      [1880, 2340],
      [40, 2340],
    ]);
    expect(draw(given)).not.toBe(draw({ ...given, marks: { ...given.marks, direction: null } }));
    const [from, to] = given.marks.direction!;
    expect((Math.atan2(from[1] - to[1], to[0] - from[0]) * 180) / Math.PI).toBeCloseTo(88, 6);
    // The region's outline in px of the picture shown.
    expect(draw(given)).toContain('M10 15L470 15L470 585L10 585Z');
    const found = measured({}, CHECK);
    expect(found.model.given).toBeUndefined();
    expect([found.marks.region, found.marks.direction]).toEqual([null, null]);
  });
});
