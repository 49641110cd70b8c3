import type {
  BandFacts,
  BandModel,
  ColourFacts,
  RepeatFacts,
  SecondDirection,
  SymmetryFacts,
} from './band-model.js';

/** Some fields must be there, the others may. */
type With<T, Required extends keyof T> = Pick<T, Required> & Partial<T>;

type TypedBand = With<BandFacts, 'id' | 'colour' | 'width_mm'>;

/**
 * A band model without a photo, as a person or a program may type it: see typed-model-schema.ts, published as
 * typed-model.schema.json. Lengths in mm, bands in order of growing u. The shortest one is
 *
 *     { "format": "stripewright.band-model", "version": 1, "units": "mm",
 *       "repeat": { "across_mm": 30 },
 *       "colours": [{ "id": "A", "srgb": "#22305e" }, { "id": "B", "srgb": "#f4efdf" }],
 *       "bands": [{ "id": "b1", "colour": "A", "width_mm": 12 }, { "id": "b2", "colour": "B", "width_mm": 18 }],
 *       "symmetry": { "balanced": true } }
 */
export interface TypedModel
  extends With<
    Omit<BandModel, 'photo' | 'stripes' | 'repeat' | 'colours' | 'bands' | 'symmetry' | 'check'>,
    'format' | 'version' | 'units'
  > {
  readonly photo?: null;
  readonly stripes?: Partial<BandModel['stripes']>;
  readonly repeat: With<RepeatFacts, 'across_mm'>;
  readonly colours: readonly With<ColourFacts, 'id' | 'srgb'>[];
  readonly bands: readonly TypedBand[];
  readonly symmetry: With<SymmetryFacts, 'balanced'>;
  readonly check?: Partial<Omit<SecondDirection, 'repeat' | 'bands'>> & {
    readonly repeat: With<RepeatFacts, 'across_mm'>;
    readonly bands: readonly TypedBand[];
  };
}

/** What a field that was left out is taken to be. Nothing was measured: no spread is known, and nothing is in doubt. */
export const LEFT_OUT = {
  model: {
    photo: null,
    scale: null,
    plane: null,
    instances: [],
    motifs: [],
    intrusions: [],
    warnings: [],
  },
  stripes: { direction_deg: null, bow_percent: null, skew_percent: null },
  repeat: {
    across_sd_mm: null,
    repeats_seen: 0,
    confidence: 1,
    alternatives: [],
    along_mm: null,
    along_sd_mm: null,
    drop_fraction: null,
  },
  band: { width_sd_mm: null, width_min_mm: null, width_max_mm: null, edge_sd_mm: null, mix: [] },
  symmetry: { mirror_axes_mm: [], directional: null, direction_score: null },
  check: { instances: [] },
} as const;

/** Fields that may be left out because they follow from the others: see complete-typed-model.ts. */
export const FOLLOWS = {
  model: ['stripes'],
  stripes: ['layout'],
  colour: ['lab', 'name', 'share'],
  band: ['start_mm'],
  symmetry: ['balance_score'],
} as const;
