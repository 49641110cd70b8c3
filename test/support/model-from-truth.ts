import type { BandModel, Matrix3 } from '../../src/core/model/band-model.js';
import { inverseMap, type PlaneMap } from './photo-painter/plane-map.js';
import type { SceneTruth } from './photo-painter/scene-truth.js';

export interface ModelChange {
  /** List the bands from this one. */
  readonly startBand?: number;
  /** Turn the cloth frame by 180 degrees: u and v both reversed. */
  readonly turned?: boolean;
  /** Every length times this. */
  readonly scale?: number;
  /** Added to the width of the first band. */
  readonly firstBandMm?: number;
}

/** The band model that a faultless measurement of a scene would give, or one with stated faults. */
export function modelFromTruth(truth: SceneTruth, change: ModelChange = {}): BandModel {
  const { startBand = 0, turned = false, scale = 1, firstBandMm = 0 } = change;
  const n = truth.bands.length;
  const hexes = [
    ...new Set([...Object.keys(truth.colour_share), ...truth.bands.map((b) => b.colour_srgb_hex)]),
  ];
  const idOf = (hex: string) => String.fromCharCode(65 + hexes.indexOf(hex));
  // Measured band i is this true band.
  const trueBand = (i: number) => (turned ? n - 1 - ((i + startBand) % n) : (i + startBand) % n);
  const measuredBand = (band: number) => [...truth.bands.keys()].find((i) => trueBand(i) === band) ?? 0;
  let start = 0;
  const bands = truth.bands.map((_, i) => {
    const band = truth.bands[trueBand(i)];
    const width = (band.width_mm_mean_visible ?? band.width_mm_nominal) * scale + (i === 0 ? firstBandMm : 0);
    const from = start;
    start += width;
    return {
      id: `b${i + 1}`,
      colour: idOf(band.colour_srgb_hex),
      start_mm: from,
      width_mm: width,
      width_sd_mm: null,
      width_min_mm: null,
      width_max_mm: null,
      edge_sd_mm: null,
      mix: [],
    };
  });
  const seen = turned ? [...truth.instances].reverse() : truth.instances;
  return {
    format: 'stripewright.band-model',
    version: 1,
    units: 'mm',
    photo: {
      file: `${truth.name}.jpg`,
      width_px: truth.image_size[0],
      height_px: truth.image_size[1],
      sha256: '0'.repeat(64),
    },
    scale: null,
    plane: {
      homography: clothFromPhoto(truth, scale, turned) as unknown as Matrix3,
      tilt_deg: truth.tilt_deg,
      residual_mm: 0,
      k1: truth.k1_half_diagonal,
    },
    stripes: {
      direction_deg: truth.stripe_direction_deg,
      layout: 'stripe',
      bow_percent: null,
      skew_percent: null,
    },
    repeat: {
      across_mm: truth.repeat_across_mm === null ? null : truth.repeat_across_mm * scale,
      across_sd_mm: null,
      repeats_seen: 3,
      confidence: 1,
      alternatives: [],
      along_mm: null,
      along_sd_mm: null,
      drop_fraction: null,
    },
    colours: hexes.map((hex) => ({
      id: idOf(hex),
      srgb: hex,
      lab: [0, 0, 0] as const,
      name: '',
      share: truth.colour_share[hex] ?? 0,
    })),
    bands,
    instances: seen.map(({ band, repeat, width_mm }) => {
      const i = measuredBand(band);
      const place = turned ? -repeat * n + n - 1 - band : repeat * n + band;
      return {
        band: `b${i + 1}`,
        repeat: Math.floor((place - startBand) / n),
        start_mm: 0,
        end_mm: width_mm,
        width_mm: width_mm * scale,
        width_sd_mm: null,
        whole: true,
      };
    }),
    motifs: [],
    intrusions: [],
    symmetry: {
      balanced: truth.balanced ?? false,
      balance_score: 0,
      mirror_axes_mm: [],
      directional: null,
      direction_score: null,
    },
    warnings: [],
  };
}

function clothFromPhoto(truth: SceneTruth, scale: number, turned: boolean): PlaneMap {
  const factor = turned ? -scale : scale;
  return inverseMap(truth.homography_cloth_mm_to_photo_px.flat()).map((value, i) =>
    i < 6 ? value * factor : value,
  );
}
