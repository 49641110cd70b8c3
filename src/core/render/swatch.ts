import { check, finiteNumber, listOf, numberWithin, orNull, record, textLike } from '../base/expectation.js';
import { byteTable, LINEAR_STEPS } from '../colour/byte-table.js';
import { byteFromLinear, linearFromRgb8, rgb8FromHex } from '../colour/srgb.js';
import { boxMean } from '../math/periodic-steps.js';
import type { BandModel } from '../model/band-model.js';
import { checkBandModel } from '../model/check-band-model.js';
import { type ClothPattern, clothPattern, type PatternBand, stepsOfPattern } from '../model/cloth-pattern.js';
import { type Raster, raster } from '../raster/raster.js';
import { mixedHex } from './mixed-colour.js';
import { element, svgInMm } from './svg.js';

/** One repeat of the cloth at true size; laid side by side, copies join without a seam. */
export interface Swatch {
  /** Across the stripes: the first band of the repeat begins at its left edge. */
  readonly across: ClothPattern;
  /** Along them: the bands of the second direction, bottom first, or null for stripes. */
  readonly along: ClothPattern | null;
  readonly widthMm: number;
  readonly heightMm: number;
}

const PATTERN = record(
  {
    repeatMm: numberWithin({ above: 0 }),
    bands: listOf(
      record({
        startMm: finiteNumber,
        widthMm: numberWithin({ above: 0 }),
        srgb: textLike(/^#[0-9a-f]{6}$/i, '"#rrggbb"'),
      }),
      { least: 1 },
    ),
  },
  'one repeat of stripes',
);
const SWATCH = record(
  {
    across: PATTERN,
    along: orNull(PATTERN),
    widthMm: numberWithin({ above: 0 }),
    heightMm: numberWithin({ above: 0 }),
  },
  'what swatchOf gives',
);

/** The swatch of a model, or null when no repeat is known. */
export function swatchOf(model: BandModel): Swatch | null {
  checkBandModel(model);
  const across = clothPattern(model);
  if (!across.ok) return null;
  const second = model.check
    ? clothPattern({ ...model, repeat: model.check.repeat, bands: model.check.bands })
    : null;
  const along = second?.ok ? second.value : null;
  const widthMm = across.value.repeatMm;
  return {
    across: across.value,
    along,
    widthMm,
    // Plain stripes may be cut anywhere: square, within what is handy to print.
    heightMm: along ? along.repeatMm : Math.min(150, Math.max(30, widthMm)),
  };
}

/** 300 px per inch, and never so many that the file is a burden. */
const PX_PER_MM = 300 / 25.4;
const MOST_PX = 4000;

/**
 * Painted with a whole number of pixels to the repeat, so that copies join: the density is what makes it so. Each pixel is
 * the mean, in linear light, of the cloth over its square. 3 channels, encoded sRGB.
 */
export function paintSwatch(swatch: Swatch): { picture: Raster<Uint8Array>; pxPerMm: number } {
  check(swatch, 'swatch', SWATCH);
  const longMm = Math.max(swatch.widthMm, swatch.heightMm);
  const wanted = Math.min(PX_PER_MM, MOST_PX / longMm);
  const width = Math.max(1, Math.round(swatch.widthMm * wanted));
  const pxPerMm = width / swatch.widthMm;
  const height = Math.max(1, Math.round(swatch.heightMm * pxPerMm));
  const columns = meansAlong(swatch.across, width);
  const data = new Uint8Array(width * height * 3);
  if (swatch.along === null) {
    const row = data.subarray(0, columns.length);
    columns.forEach((linear, k) => {
      row[k] = byteFromLinear(linear);
    });
    for (let y = 1; y < height; y++) data.copyWithin(y * row.length, 0, row.length);
  } else {
    // The second direction runs upwards, rows run down.
    const rows = meansAlong(swatch.along, height);
    const bytes = byteTable();
    for (let y = 0, i = 0; y < height; y++) {
      const row = 3 * (height - 1 - y);
      for (let x = 0; x < columns.length; x += 3) {
        for (let c = 0; c < 3; c++) {
          const mean = (columns[x + c] + rows[row + c]) / 2;
          data[i++] = bytes[(mean * LINEAR_STEPS + 0.5) | 0];
        }
      }
    }
  }
  return { picture: raster(width, height, 3, data), pxPerMm };
}

/** Linear light of each of `count` equal parts of one repeat, channels interleaved. */
function meansAlong(pattern: ClothPattern, count: number): Float64Array {
  const steps = stepsOfPattern(pattern, linearOf);
  const step = steps.period / count;
  const means = new Float64Array(3 * count);
  for (let k = 0; k < count; k++) boxMean(steps, (k + 0.5) * step, step, 0, means.subarray(3 * k, 3 * k + 3));
  return means;
}

const linearOf = (band: PatternBand): readonly number[] => linearFromRgb8(rgb8FromHex(band.srgb));

/** The same as SVG: user unit 1 mm. Each rectangle runs to the far edge under the next, so no gap can show. */
export function swatchSvg(swatch: Swatch): string {
  check(swatch, 'swatch', SWATCH);
  const { across, along, widthMm, heightMm } = swatch;
  const body = (along?.bands ?? [null])
    .flatMap((crossing) => {
      const height = heightMm - (crossing?.startMm ?? 0);
      return across.bands.map((band) =>
        element('rect', {
          x: band.startMm,
          y: 0,
          width: widthMm - band.startMm,
          height,
          fill: crossing ? mixedHex(band.srgb, crossing.srgb) : band.srgb,
        }),
      );
    })
    .join('');
  return svgInMm(widthMm, heightMm, 'One repeat of the cloth, true size', body);
}
