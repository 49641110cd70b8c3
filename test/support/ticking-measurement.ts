import type { BandModel } from '../../src/core/model/band-model.js';
import type { ClothPicture, MeasuredCloth } from '../../src/core/pipeline/measured-cloth.js';
import type { Photo } from '../../src/core/raster/photo.js';
import { raster } from '../../src/core/raster/raster.js';

const PX_PER_MM = 8;
const WIDTHS = [12, 5, 3, 10];
const COLOURS = ['A', 'B', 'C', 'B'] as const;
const SRGB = { A: '#2a3a63', B: '#ebe2cb', C: '#bd8738' } as const;
const REPEAT = 30;
const REPEATS = 3;

/** A made-up measurement of indigo, ivory and ochre ticking, consistent in itself: for what comes after measuring. */
export function tickingModel(change: Partial<BandModel> = {}): BandModel {
  const starts = WIDTHS.map((_, k) => WIDTHS.slice(0, k).reduce((sum, w) => sum + w, 0));
  return {
    format: 'stripewright.band-model',
    version: 1,
    units: 'mm',
    photo: { file: 'ticking.jpg', width_px: 2400, height_px: 1600, sha256: 'ab'.repeat(32) },
    scale: {
      px_per_mm: PX_PER_MM,
      relative_sd: 0.0004,
      source: 'ruler',
      unit: 'mm',
      ends_px: [
        [200, 300],
        [1800, 300],
      ],
      length_mm: 200,
    },
    plane: {
      homography: [1 / PX_PER_MM, 0, 0, 0, -1 / PX_PER_MM, 0, 0, 0, 1],
      tilt_deg: 1.2,
      residual_mm: 0.02,
      k1: 0,
    },
    stripes: { direction_deg: 90, layout: 'stripe', bow_percent: 0.1, skew_percent: null },
    repeat: {
      across_mm: REPEAT,
      across_sd_mm: 0.02,
      repeats_seen: REPEATS,
      confidence: 0.97,
      alternatives: [{ across_mm: 60, confidence: 0.02 }],
      along_mm: null,
      along_sd_mm: null,
      drop_fraction: null,
    },
    colours: [
      { id: 'A', srgb: SRGB.A, lab: [24.9, 5.1, -25.4], name: 'dark slate blue', share: 0.4 },
      { id: 'B', srgb: SRGB.B, lab: [90.1, -0.6, 12.5], name: 'antique white', share: 0.5 },
      { id: 'C', srgb: SRGB.C, lab: [59.9, 15.3, 50.2], name: 'peru', share: 0.1 },
    ],
    bands: WIDTHS.map((width, k) => ({
      id: `b${k + 1}`,
      colour: COLOURS[k],
      start_mm: starts[k],
      width_mm: width,
      width_sd_mm: 0.21,
      width_min_mm: width - 0.3,
      width_max_mm: width + 0.3,
      edge_sd_mm: 0.08,
      mix: [{ colour: COLOURS[k], share: 1 }],
    })),
    instances: Array.from({ length: REPEATS * WIDTHS.length }, (_, n) => {
      const k = n % WIDTHS.length;
      const start = Math.floor(n / WIDTHS.length) * REPEAT + starts[k];
      return {
        band: `b${k + 1}`,
        repeat: Math.floor(n / WIDTHS.length),
        start_mm: start,
        end_mm: start + WIDTHS[k],
        width_mm: WIDTHS[k],
        width_sd_mm: n === 0 ? null : 0.05,
        whole: n > 0,
      };
    }),
    motifs: [],
    intrusions: [],
    symmetry: {
      balanced: false,
      balance_score: 0.3,
      mirror_axes_mm: [],
      directional: null,
      direction_score: null,
    },
    warnings: [],
    ...change,
  };
}

/** The photo it might have come from: upright stripes from the left edge on. */
export function tickingPhoto(): Photo {
  const { picture } = tickingCloth(2400, 1600);
  const rgb = new Uint8Array(2400 * 1600 * 3);
  for (let i = 0; i < 2400 * 1600; i++) rgb.set(picture.data.subarray(4 * i, 4 * i + 3), 3 * i);
  return {
    picture: raster(2400, 1600, 3, rgb),
    photoPerPicture: 1,
    widthPx: 2400,
    heightPx: 1600,
    focal35Mm: 26,
  };
}

function tickingCloth(width: number, height: number): ClothPicture {
  const row = new Uint8Array(4 * width).fill(255);
  for (let x = 0; x < width; x++) {
    let place = ((x + 0.5) / PX_PER_MM) % REPEAT;
    const k = WIDTHS.findIndex((w) => {
      place -= w;
      return place < 0;
    });
    const bits = Number.parseInt(SRGB[COLOURS[k]].slice(1), 16);
    row.set([bits >> 16, (bits >> 8) & 255, bits & 255], 4 * x);
  }
  const data = new Uint8Array(4 * width * height);
  for (let y = 0; y < height; y++) data.set(row, 4 * width * y);
  return {
    picture: raster(width, height, 4, data),
    pxPerMm: PX_PER_MM,
    leftUMm: 0,
    topVMm: 100,
    seen: new Uint8Array(width * height).fill(1),
  };
}

export function tickingMeasurement(model: BandModel = tickingModel()): MeasuredCloth {
  const edge = (x: number): [number, number][] => [
    [x, 0],
    [x, 1600],
  ];
  const ends = (u: number) =>
    [
      [u * PX_PER_MM, 0],
      [u * PX_PER_MM, 1600],
    ] as const;
  const level = (vMm: number) => ({
    vMm,
    ends: [
      [0, 800 - vMm * PX_PER_MM],
      [2400, 800 - vMm * PX_PER_MM],
    ] as const,
  });
  return {
    model,
    marks: {
      referenceOutline: [
        [180, 280],
        [1820, 280],
        [1820, 420],
        [180, 420],
      ],
      ticks: Array.from({ length: 21 }, (_, k) => ({
        foot: [200 + 80 * k, 300] as const,
        tip: [200 + 80 * k, 340] as const,
        rank: k % 5 === 0 ? 1 : 0,
      })),
      ends: model.scale?.ends_px ?? null,
      edges: model.instances.map((one) => edge(one.start_mm * PX_PER_MM)),
      bandLabels: model.instances.map((one) => ({
        band: one.band,
        at: [((one.start_mm + one.end_mm) / 2) * PX_PER_MM, 800] as const,
        edges: [
          [one.start_mm * PX_PER_MM, 800],
          [one.end_mm * PX_PER_MM, 800],
        ] as const,
      })),
      region: null,
      direction: null,
      repeatOutline: model.repeat.across_mm === null ? null : [...edge(240), ...edge(480).reverse()],
      repeatDimension:
        model.repeat.across_mm === null
          ? null
          : [
              [240, 1000],
              [480, 1000],
            ],
      motifCell: null,
      intrusions: [],
      cleanPlaces: [],
      cleanAngleDeg: null,
      repeats: Array.from({ length: REPEATS }, (_, repeat) => ({
        repeat,
        start: ends(repeat * REPEAT),
        middle: ends((repeat + 0.5) * REPEAT),
      })),
      levels: { mm: [-50, 0, 50].map(level), inch: [-2, 0, 2].map((inches) => level(25.4 * inches)) },
      zeroLine: level(0).ends,
      origin: { at: [200, 300], onZeroLine: [200, 800], vMm: 62.5 },
    },
    cloth: () => tickingCloth(1200, 800),
    // Without a print nothing is drawn any closer.
    closeUp: {
      pxPerMm: 4,
      draw: () => {
        throw new Error('nothing to draw');
      },
    },
    stageMs: [],
  };
}
