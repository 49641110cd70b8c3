/** What is painted. Lengths in mm; the cloth frame has u across the stripes and v along them, seen from above
 *  with u to the right and v up. Colours are '#rrggbb' under the neutral light. */
export interface Scene {
  readonly name: string;
  /** Groups scenes in the benchmark's table. */
  readonly category: string;
  readonly seed: number;
  readonly cloth: ClothSpec;
  readonly reference: PlacedReference | null;
  /** More of the kind beside it, of the same height and stretch; the truth tells of the first alone. */
  readonly moreReferences?: readonly PlacedReference[];
  /** Lying on top of all else, the first lowest. */
  readonly objects?: readonly ForeignObject[];
  readonly camera: CameraSpec;
  readonly light: LightSpec;
  readonly sensor: SensorSpec;
  readonly expectedOutcome: ExpectedOutcome;
}

export type ExpectedOutcome = 'measure' | 'no-scale' | 'no-stripes' | 'too-blurred' | 'too-dark';

export interface ClothSpec {
  readonly ground: StripedGround | PlainGround | SpottedGround;
  readonly weave: WeaveSpec;
  /** Where the cloth ends and the table shows. */
  readonly borders?: readonly ClothBorder[];
  readonly folds?: readonly Fold[];
}

export interface BandSpec {
  readonly colour: string;
  readonly widthMm: number;
  /** A shaded band runs evenly, in linear light, from its colour to this one in the direction of growing u. */
  readonly shadeTo?: string;
}

/** The cloth lies where u cos(normal) + v sin(normal) is under atMm; the table beyond. */
export interface ClothBorder {
  readonly normalDeg: number;
  readonly atMm: number;
  readonly tableColour: string;
  /** Cloudiness of the table. */
  readonly mottle: number;
  /** A plain woven edge this wide along the border, or none where the cloth was cut. */
  readonly selvage: { readonly widthMm: number; readonly colour: string } | null;
}

/** A ridge of Gaussian section that lifts the cloth towards the camera along a line. */
export interface Fold {
  readonly atMm: readonly [number, number];
  readonly angleDeg: number;
  /** Standard deviation of the section. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** Relative change of light for a slope of 1: positive where the side towards the line's left is lit. */
  readonly lightPerSlope: number;
}

/** A thing on the cloth, made of rounded parts in cloth mm. */
export interface ForeignObject {
  readonly parts: readonly ObjectPart[];
  /** Reach of its soft shadow. */
  readonly shadowMm: number;
}

export type ObjectPart = {
  readonly colour: string;
  /** Unevenness of its surface, relative. */
  readonly mottle: number;
} & (
  | {
      readonly kind: 'limb';
      readonly from: readonly [number, number];
      readonly to: readonly [number, number];
      readonly radiusFromMm: number;
      readonly radiusToMm: number;
    }
  | {
      readonly kind: 'ring';
      readonly centre: readonly [number, number];
      readonly radiusMm: number;
      readonly thicknessMm: number;
    }
);

export interface StripedGround {
  readonly kind: 'striped';
  /** One repeat in order of growing u. */
  readonly bands: readonly BandSpec[];
  /** Standard deviation of an instance's width, as a fraction of it; the repeat itself stays steady. */
  readonly unevenness: number;
  /** Slow wander of each edge along the stripe, standard deviation. */
  readonly wanderMm: number;
  /** Fast raggedness of each edge, standard deviation. */
  readonly raggedMm: number;
  /** Parabolic bow of the stripes over the view's extent along them, percent of that extent. */
  readonly bowPercent: number;
  readonly motif: ShellMotif | null;
  /** What else is printed; absent or null: nothing. */
  readonly print?: PrintSpec | null;
  /** Bands of the other direction, woven half and half with the first; in order of growing v. */
  readonly check: readonly BandSpec[] | null;
}

export interface PlainGround {
  readonly kind: 'plain';
  readonly colour: string;
  /** Cloudiness of a surface that is not cloth, 0 for dyed cloth. */
  readonly mottle: number;
}

export interface SpottedGround {
  readonly kind: 'spotted';
  readonly colour: string;
  readonly spotColour: string;
  readonly pitchMm: number;
  readonly radiusMm: number;
}

/** A printed shell, one in every repeat across, its hinge towards smaller v. */
export interface ShellMotif {
  readonly colour: string;
  readonly ribColour: string;
  readonly heightMm: number;
  readonly alongMm: number;
  /** Shift along from one repeat to the next, as a fraction of alongMm. */
  readonly drop: number;
  /** Centre within the repeat, from the start of the first band. */
  readonly atMm: number;
}

/** Drawings printed at every place of a lattice: (acrossRepeats repeats, drop * alongMm) and (0, alongMm). */
export interface PrintSpec {
  readonly acrossRepeats: number;
  readonly alongMm: number;
  /** Shift along from one cell to the next across, as a fraction of alongMm. */
  readonly drop: number;
  /** Later ones lie over earlier ones. */
  readonly motifs: readonly PrintedMotif[];
  /** Whether the print looks different from the other end of the stripes. */
  readonly directional: boolean;
}

export interface PrintedMotif {
  readonly kind: 'disc' | 'flower' | 'bar' | 'arrow' | 'zed' | 'flag';
  readonly colour: string;
  /** Greatest extent. */
  readonly sizeMm: number;
  /** Middle, from the start of the first band, and along. */
  readonly atMm: readonly [number, number];
  /** Counter-clockwise as seen, after mirroring. */
  readonly turnDeg: number;
  /** x reversed. */
  readonly mirrored: boolean;
}

export interface WeaveSpec {
  readonly threadMm: number;
  /** Relief of single threads, relative. */
  readonly relief: number;
  /** Standard deviation of brightness from thread to thread, relative. */
  readonly slub: number;
}

export type ReferenceType =
  | 'metal-mm'
  | 'wood-inch'
  | 'dual'
  | 'tape-mm'
  | 'grid-inch'
  | 'metre-stick'
  | 'black-mm'
  | 'half-mm'
  | 'tape-inch'
  | 'steel-32nds'
  | 'sheet-a4'
  | 'sheet-letter'
  | 'card-id1';

export interface PlacedReference {
  readonly type: ReferenceType;
  /** Where the middle of the reference lies on the cloth. */
  readonly atMm: readonly [number, number];
  /** From the direction of growing u to the reference's own reading direction, counter-clockwise as seen. */
  readonly angleDeg: number;
  /** Of the marked face above the cloth. */
  readonly heightMm: number;
  /** Wear of the print, 0 (new) to 1. */
  readonly wear: number;
  /** By how much its marks are truly farther apart than they say, relative. */
  readonly stretch?: number;
  /** A tape that does not lie straight: its axis is y = bend x^2 about its middle, 1/mm. */
  readonly bendPerMm?: number;
  /** A lamp mirrored in its face: light added about a place along it, 1 = white. */
  readonly gloss?: { readonly atMm: number; readonly widthMm: number; readonly strength: number };
}

export interface CameraSpec {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Of a 43.267 mm diagonal. */
  readonly focal35Mm: number;
  readonly exifFocal: boolean;
  readonly exifOrientation: 1 | 3 | 6 | 8;
  readonly distanceMm: number;
  /** About the photo's x axis, then its y axis. */
  readonly tiltDeg: readonly [number, number];
  /** Of the cloth as seen, counter-clockwise: 0 leaves the stripes upright. */
  readonly rollDeg: number;
  /** x_d = c + (x - c)(1 + k1 r^2), r in half-diagonals. */
  readonly k1: number;
  /** The point of the cloth at the centre of the photo. */
  readonly aimMm: readonly [number, number];
}

export interface LightSpec {
  readonly exposure: number;
  /** Relative change from the centre to the right edge, and to the lower edge. */
  readonly gradient: readonly [number, number];
  /** Relative loss in the corners. */
  readonly vignette: number;
  /** Channel gains of a light that is not neutral. */
  readonly cast: readonly [number, number, number];
  readonly shadows: readonly SoftShadow[];
  readonly creases?: readonly Crease[];
}

/** A soft fold that leans the cloth towards the light on one side of a line and away from it on the other. */
export interface Crease {
  /** A point of the line, as fractions of the photo's width and height. */
  readonly at: readonly [number, number];
  readonly angleDeg: number;
  /** Half-width as a fraction of the half-diagonal. */
  readonly width: number;
  /** Largest relative change of light. */
  readonly depth: number;
}

export interface SoftShadow {
  /** Centre as fractions of the photo's width and height. */
  readonly at: readonly [number, number];
  /** Radii as fractions of the half-diagonal. */
  readonly radii: readonly [number, number];
  readonly angleDeg: number;
  readonly depth: number;
}

export interface SensorSpec {
  /** Standard deviation of the lens's Gaussian spread, px. */
  readonly blurPx: number;
  /** Standard deviation of the noise at mid grey, 8-bit levels. */
  readonly noiseLevels: number;
  readonly jpegQuality: number;
}
