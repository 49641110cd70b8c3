import type { Setting } from '../base/setting.js';
import type { Matrix3, Point } from '../math/matrix3.js';

export type { Matrix3, Point };

export interface PhotoFacts {
  /** Name of the file, without its folder; empty where the pixels came without a file. */
  readonly file: string;
  /** Size of the upright photo. */
  readonly width_px: number;
  readonly height_px: number;
  /** Of the file's bytes, 64 lower-case hexadecimal digits; empty where the pixels came without a file. */
  readonly sha256: string;
}

export interface ScaleFacts {
  /** At the middle of the reference. */
  readonly px_per_mm: number;
  readonly relative_sd: number;
  readonly source: 'ruler' | 'sheet' | 'card' | 'points' | 'density';
  readonly unit: 'mm' | 'inch' | null;
  readonly ends_px?: readonly [Point, Point];
  readonly corners_px?: readonly Point[];
  readonly length_mm: number | null;
  /** Accuracy class (Directive 2014/32/EU, MI-008) that relative_sd allows a ruler, or a length between points. */
  readonly ruler_class?: 'I' | 'II' | 'III';
}

export interface PlaneFacts {
  /** Undistorted photo px -> cloth mm. */
  readonly homography: Matrix3;
  readonly tilt_deg: number;
  readonly residual_mm: number;
  /** Radial term: x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals of the photo. */
  readonly k1: number;
}

export interface RepeatFacts {
  readonly across_mm: number | null;
  readonly across_sd_mm: number | null;
  readonly repeats_seen: number;
  readonly confidence: number;
  readonly alternatives: readonly { readonly across_mm: number; readonly confidence: number }[];
  readonly along_mm: number | null;
  readonly along_sd_mm: number | null;
  /** From one cell of the print to the next across (motif_across_mm, else across_mm): shift along as a part of along_mm. */
  readonly drop_fraction: number | null;
  /** One cell of the print across: a whole number of across_mm. Absent or null: across_mm, or no print. */
  readonly motif_across_mm?: number | null;
}

export interface ColourFacts {
  readonly id: string;
  readonly srgb: string;
  /** CIELAB, D65 white, 2 degree observer. */
  readonly lab: readonly [number, number, number];
  /** In plain words, as it looks in the photo; or as somebody named it. */
  readonly name: string;
  /** True where somebody named it; absent where not. */
  readonly name_given?: boolean;
  readonly share: number;
}

export interface BandFacts {
  readonly id: string;
  readonly colour: string;
  readonly start_mm: number;
  readonly width_mm: number;
  readonly width_sd_mm: number | null;
  /** Standard deviation of the mean width itself: unevenness over the instances seen, edges, and scale. */
  readonly width_mean_sd_mm?: number | null;
  readonly width_min_mm: number | null;
  readonly width_max_mm: number | null;
  readonly edge_sd_mm: number | null;
  readonly mix: readonly { readonly colour: string; readonly share: number }[];
}

export interface InstanceFacts {
  readonly band: string;
  readonly repeat: number;
  readonly start_mm: number;
  readonly end_mm: number;
  readonly width_mm: number;
  readonly width_sd_mm: number | null;
  readonly whole: boolean;
}

export interface MotifFacts {
  readonly colour: string;
  readonly along_mm: number;
  readonly across_mm: number;
  readonly extent_mm: Point;
  /** Whether the drawing it belongs to is its own mirror image, u reversed and v reversed; null: too close to call. */
  readonly mirrors_across?: boolean | null;
  readonly mirrors_along?: boolean | null;
}

export interface IntrusionFacts {
  /** Index into instances. */
  readonly instance: number;
  readonly edge: 'start' | 'end' | 'inside';
  readonly along_from_mm: number;
  readonly along_to_mm: number;
  readonly depth_mm: number;
}

/** How far the print is its own image, stripes left out of account: 1 wholly, 0 not at all. */
export interface LikenessFacts {
  readonly score: number;
  /** Null: too close to call. */
  readonly same: boolean | null;
  /** That the nearer answer is right, 0.5..1. */
  readonly confidence: number;
}

export interface SymmetryFacts {
  readonly balanced: boolean;
  readonly balance_score: number;
  readonly mirror_axes_mm: readonly number[];
  /** Null when the photo cannot tell. */
  readonly directional: boolean | null;
  readonly direction_score: number | null;
  /** The print with one end turned round, with v reversed, with u reversed; a shift along or across is allowed. Absent without print. */
  readonly half_turn?: LikenessFacts;
  readonly mirror_along?: LikenessFacts;
  readonly mirror_across?: LikenessFacts;
  /** Whether pieces may be turned round, be mirrored end for end only, or neither; null: too close to call. Absent without print. */
  readonly verdict?: 'two-way' | 'mirror-symmetrical' | 'one-way' | null;
  readonly verdict_confidence?: number;
  /** One-way print: the end of v (up: growing) at which most of the largest motif lies. */
  readonly heavy_end?: 'up' | 'down' | null;
}

export interface Warning {
  readonly code: string;
  /** Whole sentences in plain words. */
  readonly message: string;
  /** What the message speaks of that can be set, as the measurement's parameters are called; absent when nothing. */
  readonly settings?: readonly Setting[];
}

export interface SecondDirection {
  readonly repeat: RepeatFacts;
  readonly bands: readonly BandFacts[];
  readonly instances: readonly InstanceFacts[];
  /** Its own balance; the model's symmetry is the first direction's. Absent in older or typed models. */
  readonly symmetry?: Pick<SymmetryFacts, 'balanced' | 'balance_score' | 'mirror_axes_mm'>;
}

/** The rectified picture beside the model: where it lies on the cloth. */
export interface ClothFacts {
  /** Beside the model. */
  readonly file: string;
  readonly px_per_mm: number;
  /** Cloth coordinates of the picture's top left corner; u grows to the right, v upwards. */
  readonly left_u_mm: number;
  readonly top_v_mm: number;
  /** Width of the frame of numbers and lengths round the cloth, on every side; absent: none. */
  readonly frame_px?: number;
}

/** A place on the cloth that a person can find again; it tells where 0 along the stripes lies. */
export interface OriginFacts {
  readonly landmark: 'ruler-end' | 'sheet-corner' | 'card-corner' | 'given-point' | 'view-corner';
  /** The landmark in the photo, px. */
  readonly at_px: Point;
  /** In which part of the photo that is. */
  readonly place:
    | 'upper left'
    | 'upper'
    | 'upper right'
    | 'left'
    | 'middle'
    | 'right'
    | 'lower left'
    | 'lower'
    | 'lower right';
  /** The landmark on the cloth: 0 along the stripes lies v_mm from it. */
  readonly u_mm: number;
  readonly v_mm: number;
  /** Which way along the stripes 0 lies from the landmark, as seen in the photo. */
  readonly towards: 'up' | 'down' | 'left' | 'right';
  /** The same as a sentence, lengths in mm. */
  readonly words: string;
}

/** What a person said of the stripes, where that was used instead of being found. */
export interface GivenFacts {
  readonly direction_deg: number | null;
  /** The part of the photo that was read: x, y, width, height. */
  readonly region_px: readonly [number, number, number, number] | null;
  readonly bands: number | null;
}

/** The contract other tools read: see band-model-schema.ts, published as band-model.schema.json. Lengths in mm, cloth frame. */
export interface BandModel {
  readonly format: 'stripewright.band-model';
  readonly version: 1;
  readonly units: 'mm';
  /** Null in a model typed in by hand, as are scale and plane. */
  readonly photo: PhotoFacts | null;
  readonly scale: ScaleFacts | null;
  readonly plane: PlaneFacts | null;
  readonly stripes: {
    readonly direction_deg: number | null;
    readonly layout: 'stripe' | 'check';
    readonly bow_percent: number | null;
    readonly skew_percent: number | null;
  };
  readonly repeat: RepeatFacts;
  readonly colours: readonly ColourFacts[];
  readonly bands: readonly BandFacts[];
  readonly instances: readonly InstanceFacts[];
  readonly motifs: readonly MotifFacts[];
  readonly intrusions: readonly IntrusionFacts[];
  readonly symmetry: SymmetryFacts;
  readonly warnings: readonly Warning[];
  readonly check?: SecondDirection;
  readonly cloth?: ClothFacts;
  /** Absent in a typed model. */
  readonly origin?: OriginFacts;
  /** Absent when all was found. */
  readonly given?: GivenFacts;
}
