import { pinholeCamera } from '../photo-painter/pinhole-camera.js';
import type { PaperScene } from './paper-scene.js';
import { areaOf } from './piece-shape.js';

type Place = readonly [number, number];

/** What a photo of paper shows, exactly. Lengths in mm on the table, x right and y up as seen; photo px of the upright photo. */
export interface PaperTruth {
  readonly name: string;
  readonly seed: number;
  readonly image_size: Place;
  readonly expected: PaperScene['expected'];
  readonly ground: string;
  readonly scale: readonly string[];
  readonly tilt_deg: number;
  readonly k1: number;
  readonly focal_px: number;
  /** Table mm -> photo px without lens curvature, row-major. */
  readonly photo_from_table: readonly number[];
  readonly pieces: readonly PieceTruth[];
}

export interface PieceTruth {
  readonly outline: readonly Place[];
  readonly drawn: boolean;
  readonly colour: string;
  readonly clear: number;
  readonly area_mm2: number;
  readonly corners: readonly { readonly at: Place; readonly turn_deg: number }[];
  readonly notches: readonly { readonly at: Place; readonly kind: string }[];
  readonly grain: { readonly foot: Place; readonly head: Place; readonly heads: number } | null;
}

export function paperTruth(scene: PaperScene): PaperTruth {
  const camera = pinholeCamera(scene.camera);
  return {
    name: scene.name,
    seed: scene.seed,
    image_size: [scene.camera.widthPx, scene.camera.heightPx],
    expected: scene.expected,
    ground: scene.ground.kind,
    scale: scene.references.map(({ type }) => type),
    tilt_deg: camera.tiltDeg,
    k1: scene.camera.k1,
    focal_px: camera.focalPx,
    photo_from_table: camera.photoFromPlane(0),
    pieces: scene.papers.map((sheet) => ({
      outline: sheet.outline,
      drawn: sheet.drawn,
      colour: sheet.colour,
      clear: sheet.clear,
      area_mm2: areaOf(sheet.outline),
      corners: sheet.corners.map(({ at, turnDeg }) => ({ at, turn_deg: turnDeg })),
      notches: sheet.notches,
      grain: sheet.grain,
    })),
  };
}
