import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { encodedFromLinear, type LinearRgb, linearFromEncoded } from '../../../src/core/colour/srgb.js';
import { normalCdf } from '../../../src/core/math/folded-normal.js';
import { raster } from '../../../src/core/raster/raster.js';
import { lumaStep, sharesByLuma } from '../../../src/core/rectify/luma-step.js';
import { traceEdges } from '../../../src/core/rectify/trace-edges.js';

const linearOf = (hex: string): LinearRgb =>
  [1, 3, 5].map((i) =>
    linearFromEncoded(Number.parseInt(hex.slice(i, i + 2), 16) / 255),
  ) as unknown as LinearRgb;
const MADDER = linearOf('#ac211d');
const BLACK = linearOf('#141413');
const GREEN = linearOf('#1a5332');
const OCHRE = linearOf('#d6aa1e');
const MAUVE = linearOf('#b493bc');
const TEAL = linearOf('#3abc9c');
const SLATE = linearOf('#414247');
const NAVY = linearOf('#3c457c');
const INDIGO = linearOf('#202d65');

/** Shares told for mixtures of two colours in linear light, brightened by `gain`. */
function told(first: LinearRgb, second: LinearRgb, shares: readonly number[], gain = 1): number[] {
  const step = lumaStep([first, second]);
  if (step === null) throw new Error('expected luma to tell them apart');
  const channels = [0, 1, 2].map((c) =>
    Float64Array.from(shares, (s) => gain * (first[c] + s * (second[c] - first[c]))),
  );
  const out = new Float64Array(shares.length);
  sharesByLuma(
    step,
    channels as unknown as [Float64Array, Float64Array, Float64Array],
    shares.length,
    gain,
    out,
  );
  return [...out];
}

describe('the share of a colour told by luma', () => {
  const shares = [0, 0.1, 0.25, 0.5, 0.75, 0.9, 1];

  it.each([
    [BLACK, MADDER],
    [MADDER, BLACK],
    [INDIGO, OCHRE],
    [OCHRE, GREEN],
  ])('is that of the mixture in linear light (case %#)', (first, second) => {
    for (const [i, share] of told(first, second, shares).entries())
      expect(Math.abs(share - shares[i])).toBeLessThan(0.006);
  });

  it('hardly changes with the light on the place', () => {
    for (const gain of [0.7, 1.4]) {
      for (const [i, share] of told(GREEN, OCHRE, shares, gain).entries())
        expect(Math.abs(share - shares[i])).toBeLessThan(0.03);
    }
  });

  it('is not told for colours of one luma', () => {
    expect(lumaStep([MADDER, GREEN])).toBeNull();
  });

  it('is not made much of by a little light where luma hardly grows at its end, as from a strong blue-green to a pale green', () => {
    const [first, second] = [linearOf('#22d2b3'), linearOf('#9bc181')];
    const step = lumaStep([first, second]);
    if (step === null) throw new Error('expected luma to tell them apart');
    const brighter = second.map((v) => Float64Array.of(1.03 * v));
    const out = new Float64Array(1);
    sharesByLuma(step, brighter as unknown as [Float64Array, Float64Array, Float64Array], 1, 1, out);
    expect(out[0]).toBeGreaterThan(1);
    expect(out[0]).toBeLessThan(1.2);
  });
});

describe('edges in a JPEG with colour at half size (4:2:0)', () => {
  const WIDTH = 480;
  const HEIGHT = 240;

  /** Where edges between upright stripes are found, px; the second and third colour begin at the places given. */
  async function foundAt(
    colours: readonly [LinearRgb, LinearRgb, LinearRgb],
    at: readonly [number, number],
    { blurPx = 1, tooWide = 0 } = {},
  ) {
    const data = new Uint8Array(3 * WIDTH * HEIGHT);
    for (let x = 0; x < WIDTH; x++) {
      // An optical blur, in linear light.
      const shareOf = (edge: number) => normalCdf((x + 0.5 - edge) / blurPx);
      const [p, q] = at.map(shareOf);
      for (let c = 0; c < 3; c++) {
        const linear = colours[0][c] * (1 - p) + colours[1][c] * (p - q) + colours[2][c] * q;
        const byte = Math.round(255 * encodedFromLinear(linear));
        for (let y = 0; y < HEIGHT; y++) data[3 * (y * WIDTH + x) + c] = byte;
      }
    }
    const raw = { width: WIDTH, height: HEIGHT, channels: 3 as const };
    const jpeg = await sharp(data, { raw }).jpeg({ quality: 92, chromaSubsampling: '4:2:0' }).toBuffer();
    const decoded = new Uint8Array(await sharp(jpeg).raw().toBuffer());
    const centre = { centreX: WIDTH / 2, centreY: HEIGHT / 2 };
    const edges = traceEdges(
      raster(WIDTH, HEIGHT, 3, decoded),
      { ...centre, angle: Math.PI / 2, converge: 0, bow: 0, lens: 0 },
      {
        edgesU: at.map((x, e) => x - WIDTH / 2 + (e === 0 ? 0.8 - tooWide : 0.8)),
        windowsV: [60, 0, -60],
        windowPx: 50,
        sides: [
          [colours[0], colours[1]],
          [colours[1], colours[2]],
        ],
        hidden: new Uint8Array((WIDTH / 2) * (HEIGHT / 2)),
        hiddenShrink: 2,
        hiddenWidth: WIDTH / 2,
      },
    );
    return [edges.x[1], edges.x[4]];
  }

  // The true places are the painter's own; the codec is libjpeg-turbo's.
  it.each([
    [[BLACK, MADDER, BLACK], 150.3, 250.9],
    [[INDIGO, OCHRE, INDIGO], 151.7, 252.2],
    [[BLACK, GREEN, OCHRE], 149.5, 251.4],
  ] as const)(
    'lie where they were painted, to a tenth of a pixel (case %#)',
    async (colours, first, second) => {
      const found = await foundAt(colours, [first, second]);
      expect(Math.abs(found[0] - first)).toBeLessThan(0.1);
      expect(Math.abs(found[1] - second)).toBeLessThan(0.1);
    },
  );

  // In linear light the second pair seemed 0.3 px nearer each other.
  it.each([
    [[MAUVE, TEAL, MAUVE], 150.3, 250.9],
    [[SLATE, NAVY, SLATE], 151.7, 252.2],
  ] as const)(
    'lie there to a fifth of a pixel where colour alone tells them (case %#)',
    async (colours, first, second) => {
      expect(lumaStep([colours[0], colours[1]])).toBeNull();
      const found = await foundAt(colours, [first, second]);
      expect(Math.abs(found[0] - first)).toBeLessThan(0.2);
      expect(Math.abs(found[1] - second)).toBeLessThan(0.2);
    },
  );

  it('are as far apart as a line hardly wider than its blur is, though it was taken for wider', async () => {
    const [first, second] = await foundAt([GREEN, OCHRE, GREEN], [200.3, 205.8], {
      blurPx: 1.6,
      tooWide: 0.7,
    });
    expect(Math.abs(second - first - 5.5)).toBeLessThan(0.25);
    expect(Math.abs((first + second) / 2 - 203.05)).toBeLessThan(0.1);
  });
});
