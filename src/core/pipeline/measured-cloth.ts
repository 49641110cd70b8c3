import type { BandModel } from '../model/band-model.js';
import type { Raster } from '../raster/raster.js';
import type { ClothWindow } from '../rectify/cloth-picture.js';
import type { OverlayMarks } from '../render/overlay-marks.js';

/** Everything one photo gave. */
export interface MeasuredCloth {
  /** What was measured, mm, cloth frame. */
  readonly model: BandModel;
  /** What to draw over the photo to show it, photo px. */
  readonly marks: OverlayMarks;
  /** Made when first asked for: of cloth without a print nothing else needs it, and other work can begin before. */
  readonly cloth: () => ClothPicture;
  /** Parts of the cloth as sharp as the photo shows them, where the whole would be too large a picture. */
  readonly closeUp: ClothCloseUp;
  /** Wall time of each stage inside the core, ms, in running order. */
  readonly stageMs: readonly { readonly stage: string; readonly ms: number }[];
}

/** The photo resampled to the cloth frame: u grows to the right, v upwards. */
export interface ClothPicture {
  /** RGBA, encoded sRGB; alpha 0 outside the photo. Light evened. */
  readonly picture: Raster<Uint8Array>;
  /** Pixels of the picture to a mm of cloth. */
  readonly pxPerMm: number;
  /** Cloth u of its left edge, mm. */
  readonly leftUMm: number;
  /** Cloth v of its top edge, mm. */
  readonly topVMm: number;
  /** Same size as picture: 1 where cloth was seen, 0 where the ruler lay or nothing was photographed. */
  readonly seen: Uint8Array;
}

/** Draws any part of the cloth from the photo's own pixels. */
export interface ClothCloseUp {
  /** Of the photo: a finer picture shows no more. */
  readonly pxPerMm: number;
  /** `window`: u from the model's origin. What the photo does not show is alpha 0 and not seen. */
  readonly draw: (window: ClothWindow) => ClothPicture;
}
