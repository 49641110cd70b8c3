import type { Setting } from '../base/setting.js';
import type { Matrix3, Point } from '../math/matrix3.js';

export type { Matrix3, Point };

export interface PhotoFacts {
  /** Name of the file, without its folder; empty where the pixels came without a file. */
  readonly file: string;
  /** Width of the upright photo, px. */
  readonly width_px: number;
  /** Height of the upright photo, px. */
  readonly height_px: number;
  /** SHA-256 of the file's bytes, 64 lower-case hexadecimal digits; empty where the pixels came without a file. */
  readonly sha256: string;
}

export interface ScaleFacts {
  /** Photo pixels to a mm of the cloth, at the middle of the reference. */
  readonly px_per_mm: number;
  /** Standard deviation of the scale, as a part of it: reading and the reference's own permitted error together. */
  readonly relative_sd: number;
  /** What the scale was taken from. */
  readonly source: 'ruler' | 'sheet' | 'card' | 'points' | 'density';
  /** Unit that the ruler is marked in; null where the reference is no ruler. */
  readonly unit: 'mm' | 'inch' | null;
  /**
   * Two places of known distance, photo px: first and last mark used of a ruler, the points given, or two corners of a sheet;
   * absent where there are none.
   */
  readonly ends_px?: readonly [Point, Point];
  /** The four corners of a sheet or card in order round it, photo px; absent for other references. */
  readonly corners_px?: readonly Point[];
  /** Distance between the ends, mm; null where there are none. */
  readonly length_mm: number | null;
  /**
   * Accuracy class (Directive 2014/32/EU, MI-008) that relative_sd allows a ruler, or a length between points; absent for other
   * references.
   */
  readonly ruler_class?: 'I' | 'II' | 'III';
}

export interface PlaneFacts {
  /** Undistorted photo px to cloth mm (u, v), nine numbers row by row. */
  readonly homography: Matrix3;
  /** Angle between the camera's axis and the upright of the cloth, degrees; 0: straight above. */
  readonly tilt_deg: number;
  /** How far edges and the marks of the reference lie from where the plane puts them, root mean square, mm. */
  readonly residual_mm: number;
  /** Radial term of the lens: x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals of the photo. */
  readonly k1: number;
}

export interface RepeatFacts {
  /** Length of one repeat across the stripes, mm; null when no repeat was in view. */
  readonly across_mm: number | null;
  /** Standard deviation of across_mm, mm, the scale's own included; null when not known. */
  readonly across_sd_mm: number | null;
  /** How many repeats were in view, parts counted as parts. */
  readonly repeats_seen: number;
  /** That across_mm is the repeat, rather than one of the alternatives or none: 0 to 1. */
  readonly confidence: number;
  /** Other lengths that might be the repeat, likeliest first. */
  readonly alternatives: readonly {
    /** Length across the stripes, mm. */
    readonly across_mm: number;
    /** That it is the repeat, 0 to 1. */
    readonly confidence: number;
  }[];
  /** Length of one repeat of the print along the stripes, mm; null without a print, or when none was in view. */
  readonly along_mm: number | null;
  /** Standard deviation of along_mm, mm; null when not known. */
  readonly along_sd_mm: number | null;
  /**
   * From one cell of the print to the next across (motif_across_mm, else across_mm): shift along as a part of along_mm; null when
   * there is none to tell.
   */
  readonly drop_fraction: number | null;
  /** One cell of the print across, mm: a whole number of across_mm. Absent or null: across_mm, or no print. */
  readonly motif_across_mm?: number | null;
}

export interface ColourFacts {
  /** Letter by which bands and motifs name the colour; A covers most of the cloth. */
  readonly id: string;
  /** "#rrggbb", encoded sRGB as in the photo, light evened. */
  readonly srgb: string;
  /** The same in CIELAB, D65 white, 2 degree observer. */
  readonly lab: readonly [number, number, number];
  /** In plain words, as it looks in the photo; or as somebody named it. */
  readonly name: string;
  /** True where somebody named it; absent where not. */
  readonly name_given?: boolean;
  /** Part of the cloth's area, 0 to 1; all together 1. */
  readonly share: number;
}

export interface BandFacts {
  /** Name of the band: b1 is the widest as measured, the others follow by growing u. */
  readonly id: string;
  /** Id of its colour. */
  readonly colour: string;
  /** Where it starts, mm from the start of the repeat; the first at 0. */
  readonly start_mm: number;
  /** Mean width over all instances seen, mm. */
  readonly width_mm: number;
  /** Spread of the width from one instance to another, standard deviation, mm; null when too few were seen. */
  readonly width_sd_mm: number | null;
  /**
   * Standard deviation of the mean width itself, mm: unevenness over the instances seen, edges, and scale; null or absent when not
   * known.
   */
  readonly width_mean_sd_mm?: number | null;
  /** Narrowest instance seen whole, mm; null when none was. */
  readonly width_min_mm: number | null;
  /** Widest instance seen whole, mm; null when none was. */
  readonly width_max_mm: number | null;
  /** How far its edges lie from where an even repeat puts them, standard deviation, mm; null when fewer than two were seen. */
  readonly edge_sd_mm: number | null;
  /** What colours are seen within the band, the largest share first; empty where that was not looked at. */
  readonly mix: readonly {
    /** Id of the colour. */
    readonly colour: string;
    /** Its part of the band's area, 0 to 1. */
    readonly share: number;
  }[];
}

export interface InstanceFacts {
  /** Id of the band it is one of. */
  readonly band: string;
  /** Number of the repeat it lies in: 0 at the origin, growing with u. */
  readonly repeat: number;
  /** Where it starts, u on the cloth, mm. */
  readonly start_mm: number;
  /** Where it ends, u on the cloth, mm. */
  readonly end_mm: number;
  /** From start to end, mm. */
  readonly width_mm: number;
  /** Standard deviation of width_mm, mm; null when not known. */
  readonly width_sd_mm: number | null;
  /** Whether both its edges were seen; else it is cut by the edge of what was seen. */
  readonly whole: boolean;
}

export interface MotifFacts {
  /** Id of its colour. */
  readonly colour: string;
  /** Middle of its outer box, v, mm, in the first repeats from the origin. */
  readonly along_mm: number;
  /** Middle of its outer box, u, mm, in the first repeats from the origin. */
  readonly across_mm: number;
  /** Size of its outer box along u and v, mm. */
  readonly extent_mm: Point;
  /** Whether the drawing it belongs to is its own mirror image with u reversed; null: too close to call. */
  readonly mirrors_across?: boolean | null;
  /** The same with v reversed. */
  readonly mirrors_along?: boolean | null;
}

export interface IntrusionFacts {
  /** Which instance it reaches into: an index into instances. */
  readonly instance: number;
  /** The edge of the band that the print reaches over, or inside. */
  readonly edge: 'start' | 'end' | 'inside';
  /** Where it begins, v on the cloth, mm. */
  readonly along_from_mm: number;
  /** Where it ends, v on the cloth, mm. */
  readonly along_to_mm: number;
  /** How far it reaches into the band, mm. */
  readonly depth_mm: number;
}

/** How far the print is its own image, stripes left out of account: 1 wholly, 0 not at all. */
export interface LikenessFacts {
  /** 1: wholly the same, 0: not at all. */
  readonly score: number;
  /** Whether it counts as the same; null: too close to call. */
  readonly same: boolean | null;
  /** That the nearer answer is right, 0.5 to 1. */
  readonly confidence: number;
}

export interface SymmetryFacts {
  /** Whether the stripes read the same in both directions. */
  readonly balanced: boolean;
  /** How near they are to doing so: 1 wholly, 0 not at all. */
  readonly balance_score: number;
  /** Lines about which the stripes are their own mirror image, u within one repeat, mm; empty when not balanced. */
  readonly mirror_axes_mm: readonly number[];
  /** Whether the cloth has one way up; null when the photo cannot tell. */
  readonly directional: boolean | null;
  /** Part of the print that its image turned or mirrored end for end does not cover, 0 to 1; null when the photo cannot tell. */
  readonly direction_score: number | null;
  /** The print with one end turned round; a shift along or across is allowed. Absent without print. */
  readonly half_turn?: LikenessFacts;
  /** The same for the print with v reversed. Absent without print. */
  readonly mirror_along?: LikenessFacts;
  /** The same for the print with u reversed. Absent without print. */
  readonly mirror_across?: LikenessFacts;
  /** Whether pieces may be turned round, be mirrored end for end only, or neither; null: too close to call. Absent without print. */
  readonly verdict?: 'two-way' | 'mirror-symmetrical' | 'one-way' | null;
  /** That the verdict is right, 0 to 1. Absent without print. */
  readonly verdict_confidence?: number;
  /**
   * Of one-way print: the end of v (up: growing) at which most of the largest motif lies; null: too close to call. Absent without
   * print.
   */
  readonly heavy_end?: 'up' | 'down' | null;
}

export interface Warning {
  /** Stable name of the warning, for programs. */
  readonly code: string;
  /** Whole sentences in plain words. */
  readonly message: string;
  /** What the message speaks of that can be set, as the measurement's parameters are called; absent when nothing. */
  readonly settings?: readonly Setting[];
}

export interface SecondDirection {
  /** The repeat of the second direction's stripes: its across is v of the first. */
  readonly repeat: RepeatFacts;
  /** One repeat of them, by growing v. */
  readonly bands: readonly BandFacts[];
  /** Every band of the second direction seen, by growing v; start_mm and end_mm are v. */
  readonly instances: readonly InstanceFacts[];
  /** Its own balance; the model's symmetry is the first direction's. Absent in older or typed models. */
  readonly symmetry?: Pick<SymmetryFacts, 'balanced' | 'balance_score' | 'mirror_axes_mm'>;
}

/** The rectified picture beside the model: where it lies on the cloth. */
export interface ClothFacts {
  /** Name of the picture, which lies beside the model. */
  readonly file: string;
  /** Pixels of the picture to a mm of cloth. */
  readonly px_per_mm: number;
  /** Cloth u of the picture's left edge, mm; u grows to the right. */
  readonly left_u_mm: number;
  /** Cloth v of the picture's top edge, mm; v grows upwards. */
  readonly top_v_mm: number;
  /** Width of the frame of numbers and lengths round the cloth, px, on every side; absent: none. Only alpha 255 is bare cloth. */
  readonly frame_px?: number;
}

/** A place on the cloth that a person can find again; it tells where 0 along the stripes lies. */
export interface OriginFacts {
  /** What kind of place it is. */
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
  /** The landmark on the cloth, u, mm. */
  readonly u_mm: number;
  /** The landmark on the cloth, v, mm: 0 along the stripes lies so far from it. */
  readonly v_mm: number;
  /** Which way along the stripes 0 lies from the landmark, as seen in the photo. */
  readonly towards: 'up' | 'down' | 'left' | 'right';
  /** The same as a sentence, lengths in mm. */
  readonly words: string;
}

/** What a person said of the stripes, where that was used instead of being found. */
export interface GivenFacts {
  /** Direction of the stripes in the photo, degrees from +x counter-clockwise as seen; null: it was found. */
  readonly direction_deg: number | null;
  /** The part of the photo that was read: x, y, width, height, photo px; null: all of it. */
  readonly region_px: readonly [number, number, number, number] | null;
  /** Bands in one repeat; null: they were counted. */
  readonly bands: number | null;
}

/** The contract other tools read: see band-model-schema.ts, published as band-model.schema.json. Lengths in mm, cloth frame. */
export interface BandModel {
  /** Always stripewright.band-model. */
  readonly format: 'stripewright.band-model';
  /** Of the format: 1. */
  readonly version: 1;
  /** Of every length: mm. */
  readonly units: 'mm';
  /** The photo; null in a model typed in by hand. */
  readonly photo: PhotoFacts | null;
  /** How long a mm is in the photo, and how that is known; null in a model typed in by hand. */
  readonly scale: ScaleFacts | null;
  /** How the cloth lay before the camera; null in a model typed in by hand. */
  readonly plane: PlaneFacts | null;
  /** How the stripes run. */
  readonly stripes: {
    /** Of the stripes in the photo, degrees from +x counter-clockwise as seen, 0 up to 180; null in a model typed in by hand. */
    readonly direction_deg: number | null;
    /** Stripes of one direction, or a check of two. */
    readonly layout: 'stripe' | 'check';
    /** Bow as ASTM D3882 counts it, percent: its depth over the length it spans; null in a model typed in by hand. */
    readonly bow_percent: number | null;
    /**
     * Skew as ASTM D3882 counts it, percent, by the other stripes of a check or a selvage; null where nothing square to the
     * stripes is in view.
     */
    readonly skew_percent: number | null;
  };
  /** What repeats, and how far apart. */
  readonly repeat: RepeatFacts;
  /** The cloth's colours, the one that covers most of it first. */
  readonly colours: readonly ColourFacts[];
  /** One repeat, in order of growing u. */
  readonly bands: readonly BandFacts[];
  /** Every band seen, in order of growing u; empty in a model typed in by hand. */
  readonly instances: readonly InstanceFacts[];
  /** The print's motifs in one cell; empty without a print. */
  readonly motifs: readonly MotifFacts[];
  /** Where the print reaches over an edge of a band; empty without a print. */
  readonly intrusions: readonly IntrusionFacts[];
  /** Which way up and which way round the cloth reads the same. */
  readonly symmetry: SymmetryFacts;
  /** What a person should know before relying on the figures. */
  readonly warnings: readonly Warning[];
  /** The second direction of a check; absent on plain stripes. */
  readonly check?: SecondDirection;
  /** The rectified picture beside the model, and where on the cloth its top left corner lies; absent where there is none. */
  readonly cloth?: ClothFacts;
  /** A place on the cloth that a person can find again, and where 0 along the stripes lies from it; absent in a typed model. */
  readonly origin?: OriginFacts;
  /** What a person said of the stripes, where that was used instead of being found; absent when all was found. */
  readonly given?: GivenFacts;
}
