import type { CameraSpec, LightSpec, PlacedReference, SensorSpec } from '../photo-painter/scene.js';

type Place = readonly [number, number];

/** What a photo of paper pieces is painted from. Lengths in mm on the table, x right, y up as seen from above; colours '#rrggbb'. */
export interface PaperScene {
  readonly name: string;
  readonly seed: number;
  readonly ground: PaperGround;
  readonly papers: readonly PaperSheet[];
  /** In the plane of the table, or lying on the paper. */
  readonly references: readonly PlacedReference[];
  /** Round things lying about: weights, a pot of pins. */
  readonly weights: readonly Weight[];
  readonly camera: CameraSpec;
  readonly light: LightSpec;
  readonly sensor: SensorSpec;
  readonly shadow: PaperShadow;
  readonly expected: PaperOutcome;
}

export type PaperOutcome =
  | 'traced'
  | 'no-scale'
  | 'no-paper'
  | 'cut-off'
  | 'touching'
  | 'too-blurred'
  | 'too-dark';

export type PaperGround =
  | { readonly kind: 'plain'; readonly colour: string; readonly mottle: number }
  /** Boards run along x' = x cos(angle) + y sin(angle). */
  | {
      readonly kind: 'boards';
      readonly colours: readonly string[];
      readonly widthMm: number;
      readonly angleDeg: number;
      readonly grain: number;
      readonly seamMm: number;
    }
  | { readonly kind: 'cloth'; readonly colour: string; readonly threadMm: number; readonly relief: number }
  | {
      readonly kind: 'mat';
      readonly colour: string;
      readonly lineColour: string;
      readonly cellMm: number;
      readonly angleDeg: number;
    };

/** Light hidden at the edges of everything flat, strongest on one side. */
export interface PaperShadow {
  /** Where the shadow falls, from the edge. */
  readonly offsetMm: Place;
  readonly softMm: number;
  readonly depth: number;
}

export interface PaperSheet {
  /** The pattern's outline without its notches, closed, counter-clockwise, no chord over 0.01 mm off its curve. */
  readonly outline: readonly Place[];
  /** Where it turns by 20 degrees and more, with the turn. */
  readonly corners: readonly { readonly at: Place; readonly turnDeg: number }[];
  /** Where the paper ends: the outline with its notches cut in, or further out where the outline is drawn. */
  readonly paper: readonly Place[];
  readonly drawn: boolean;
  readonly notches: readonly { readonly at: Place; readonly kind: 'vee' | 'snip' | 'tick' }[];
  readonly grain: { readonly foot: Place; readonly head: Place; readonly heads: 1 | 2 } | null;
  readonly strokes: readonly PenStroke[];
  readonly colour: string;
  /** Fibres and specks, relative. */
  readonly speckle: number;
  /** How much of the ground shows through, 0 for solid paper. */
  readonly clear: number;
  readonly creases: readonly {
    readonly at: Place;
    readonly angleDeg: number;
    readonly widthMm: number;
    readonly depth: number;
  }[];
}

export interface PenStroke {
  readonly points: readonly Place[];
  readonly closed?: boolean;
  /** Filled inside, as the head of an arrow may be. */
  readonly filled?: boolean;
  readonly widthMm: number;
  readonly colour: string;
  /** 1 covers the paper wholly. */
  readonly strength: number;
}

export interface Weight {
  readonly at: Place;
  readonly radiusMm: number;
  readonly colour: string;
}
