import { describe, expect, it } from 'vitest';
import { rgb8FromHex } from '../../../src/core/colour/srgb.js';
import { DEFAULT_CHEVRON, previewSeams } from '../../../src/core/pipeline/preview-seam.js';
import type { Raster } from '../../../src/core/raster/raster.js';
import { blankPage, placeHalves } from '../../../src/core/render/page.js';
import { stripePainter } from '../../../src/core/render/stripe-raster.js';
import type { SeamMatch } from '../../../src/core/seam/seam-match.js';
import { tickingModel, typedModel } from '../../support/seam/models.js';
import { crossingsAtSeam } from '../../support/seam/read-crossings.js';

const model = tickingModel();
const PALETTE = model.colours.map((colour) => rgb8FromHex(colour.srgb));
const PX_PER_MM = 2;
const SEAM_MM = 300;
const HALF_PX = 60;

function matchOf(angles: [number, number], more = {}): SeamMatch {
  const outcome = previewSeams(model, {
    ...DEFAULT_CHEVRON,
    angles: [angles],
    centres: ['b3'],
    seamMm: SEAM_MM,
    ...more,
  });
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.rows[0][0].match;
}

function painted(match: SeamMatch): Raster<Uint8Array> {
  const page = blankPage(2 * HALF_PX, SEAM_MM * PX_PER_MM);
  const pane = {
    leftPx: 0,
    topPx: 0,
    halfWidthPx: HALF_PX,
    heightPx: SEAM_MM * PX_PER_MM,
    pxPerMm: PX_PER_MM,
  };
  const paint = stripePainter(match.pattern);
  placeHalves(
    page,
    pane,
    (w) => paint(match.left, w),
    (w) => paint(match.right, w),
  );
  return page;
}

/** Reads one side; the slope guess tells which neighbour is the same edge two columns on. */
function read(page: Raster<Uint8Array>, side: 'left' | 'right', slope: number) {
  const near = side === 'left' ? HALF_PX - 3 : HALF_PX + 2;
  const far = side === 'left' ? near - 8 : near + 8;
  return crossingsAtSeam(page, HALF_PX, near, far, PALETTE, slope);
}

const sin = (deg: number): number => Math.sin((deg * Math.PI) / 180);
const cot = (deg: number): number => 1 / Math.tan((deg * Math.PI) / 180);

/** Edges of the typed bands on the seam, px, from widths alone: b3's middle lies at the middle of the seam. */
function closedForm(deg: number, slipMm = 0): { y: number; above: number; below: number }[] {
  const widths = model.bands.map((b) => b.width_mm);
  const repeat = widths.reduce((a, b) => a + b, 0);
  const middle = widths[0] + widths[1] + widths[2] / 2;
  const colour = (k: number): number =>
    model.colours.findIndex((c) => c.id === model.bands[((k % 6) + 6) % 6].colour);
  const found = [];
  for (let turn = -12; turn <= 12; turn++) {
    let start = turn * repeat - middle;
    for (let k = 0; k < widths.length; k++) {
      const y = (SEAM_MM / 2 + (start + slipMm) / sin(deg)) * PX_PER_MM;
      found.push({ y, above: colour(k - 1), below: colour(k) });
      start += widths[k];
    }
  }
  return found;
}

function expectEdges(
  read: { y: number; above: number; below: number }[],
  wanted: { y: number; above: number; below: number }[],
): void {
  const margin = 45;
  const inside = (edge: { y: number }): boolean => edge.y > margin && edge.y < SEAM_MM * PX_PER_MM - margin;
  const want = wanted.filter(inside);
  expect(want.length).toBeGreaterThan(4);
  for (const edge of want) {
    const mate = read.find((one) => Math.abs(one.y - edge.y) < 0.5);
    expect(mate, `an edge within half a pixel of ${edge.y.toFixed(2)}`).toMatchObject({
      above: edge.above,
      below: edge.below,
    });
  }
  for (const edge of read.filter(inside)) {
    expect(
      wanted.some((one) => Math.abs(one.y - edge.y) < 0.5),
      `nothing but edges at ${edge.y.toFixed(2)}`,
    ).toBe(true);
  }
}

describe('painted halves, read column by column by something that knows only the palette', () => {
  describe.each([15, 22.5, 30, 45, 60, 75, 90])('at %f degrees', (deg) => {
    it.each(['down', 'up'] as const)('bands cross the seam where w / sin says, point %s', (point) => {
      const page = painted(matchOf([deg, deg], { point }));
      const rise = (point === 'down' ? 1 : -1) * cot(deg);
      expectEdges(read(page, 'left', rise), closedForm(deg));
      expectEdges(read(page, 'right', -rise), closedForm(deg));
    });

    it('the arms enclose twice the angle', () => {
      const page = painted(matchOf([deg, deg]));
      for (const [side, sign] of [
        ['left', 1],
        ['right', -1],
      ] as const) {
        const slopes = read(page, side, sign * cot(deg)).map((one) => one.slope);
        const mean = slopes.reduce((a, b) => a + b, 0) / slopes.length;
        expect((Math.atan2(1, sign * mean) * 180) / Math.PI).toBeCloseTo(deg, 0.7);
      }
    });

    it('a slip moves the right half by d / sin', () => {
      const page = painted(matchOf([deg, deg], { shiftMm: 3 }));
      expectEdges(read(page, 'left', cot(deg)), closedForm(deg));
      expectEdges(read(page, 'right', -cot(deg)), closedForm(deg, 3));
    });

    it('unequal sides agree at one point and drift from there', () => {
      const other = deg === 90 ? 80 : deg + 5;
      const page = painted(matchOf([deg, other]));
      expectEdges(read(page, 'left', cot(deg)), closedForm(deg));
      expectEdges(read(page, 'right', -cot(other)), closedForm(other));
    });

    it('stripes run on across the seam', () => {
      const page = painted(matchOf([deg, deg], { lay: 'run-on' }));
      expectEdges(read(page, 'right', cot(deg)), closedForm(deg));
    });
  });

  it('the crossings of the record are those of the picture', () => {
    const match = matchOf([30, 42], { shiftMm: 1.7 });
    const page = painted(match);
    const left = read(page, 'left', cot(30));
    const right = read(page, 'right', -cot(42));
    const colour = (band: number): number =>
      model.colours.findIndex((c) => c.id === match.pattern.bands[band].colourId);
    const wanted = (side: 'left' | 'right') =>
      match.crossings.map((c) => {
        const bands = side === 'left' ? c.leftBands : c.rightBands;
        return {
          y: (side === 'left' ? c.leftMm : c.rightMm) * PX_PER_MM,
          above: colour(bands[0]),
          below: colour(bands[1]),
        };
      });
    expectEdges(left, wanted('left'));
    expectEdges(right, wanted('right'));
  });

  it('mirrors left to right exactly, head to tail', () => {
    const page = painted(matchOf([37, 37]));
    for (let y = 0; y < page.height; y++) {
      for (let x = 0; x < HALF_PX; x++) {
        for (let c = 0; c < 3; c++) {
          const a = page.data[4 * (y * page.width + x) + c];
          const b = page.data[4 * (y * page.width + page.width - 1 - x) + c];
          expect(Math.abs(a - b)).toBeLessThanOrEqual(1);
        }
      }
    }
  });
});

describe('ticking finer than a pixel', () => {
  it('turns into its even mixture, without a beat', () => {
    const fine = typedModel([
      ['#203060', 0.21],
      ['#f0e8d8', 0.16],
    ]);
    const outcome = previewSeams(fine, { ...DEFAULT_CHEVRON, angles: [[37, 37]], centres: ['b1'] });
    if (!outcome.ok) throw new Error(outcome.refusal.found);
    const { match } = outcome.value.rows[0][0];
    // 5.4 repeats to a pixel: an even grey, whose linear light is the mixture of the two.
    const picture = stripePainter(match.pattern)(match.left, {
      firstColumn: -64,
      columns: 64,
      rows: 64,
      pxPerMm: 0.5,
    });
    const reds = picture.data.filter((_, i) => i % 4 === 0);
    expect(Math.max(...reds) - Math.min(...reds)).toBeLessThanOrEqual(3);
    const linear = (v: number): number =>
      v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;
    const mixture = (0.21 * linear(0x20) + 0.16 * linear(0xf0)) / 0.37;
    const mean = reds.reduce((a, b) => a + linear(b), 0) / reds.length;
    expect(mean).toBeCloseTo(mixture, 2);
  });
});
