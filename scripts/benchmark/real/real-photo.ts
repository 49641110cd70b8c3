import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import type { Photo } from '../../../src/core/raster/photo.js';
import { raster } from '../../../src/core/raster/raster.js';
import { focalLengthFromExif } from '../../../src/node/exif-focal-length.js';

const FOLDER = fileURLToPath(new URL('../../../../shared/real/', import.meta.url));

export type Point = readonly [number, number];

/** What the list beside the photos says of one; pixel centres at whole numbers. Only what some row reads. */
export interface RealEntry {
  readonly file: string;
  readonly kind: string;
  readonly truth: RealTruth;
}

export interface RealTruth {
  readonly ticks?: readonly {
    readonly mm?: number;
    readonly cm?: number;
    readonly x: number;
    readonly y: number;
  }[];
  readonly px_per_mm?: number;
  readonly points?: readonly { readonly mm: number; readonly x: number; readonly y: number }[];
  /** The axis of the photo that the stripes follow one another along. */
  readonly stripe_axis_of_repeat?: 'x' | 'y' | 'both';
  readonly repeat_px?: number;
  readonly uncertainty_px?: number;
  readonly local_repeat_px_range?: Point;
  readonly local_repeat_px_down_range?: Point;
  readonly repeat_px_x?: number;
  readonly repeat_px_y?: number;
  readonly repeat_px_across?: number;
  readonly repeat_px_down?: number;
  readonly row_pitch_px_down?: number;
  readonly strip_pitch_px_across?: number;
  readonly edges_px?: {
    readonly strip: { readonly x: Point; readonly y: Point };
    readonly bands_per_repeat?: number;
  };
  readonly pattern?: Point;
  readonly pattern_squares?: Point;
  readonly square_mm?: number;
  readonly corners_px?: readonly Point[];
  readonly inner_corners_px?: readonly Point[];
  readonly camera_matrix_documented?: { readonly fx: number; readonly cx: number; readonly cy: number };
}

/** Null when the photos are not beside the project. */
export function realEntries(): RealEntry[] | null {
  const list = `${FOLDER}manifest.json`;
  if (!existsSync(list)) return null;
  return (JSON.parse(readFileSync(list, 'utf8')) as { images: RealEntry[] }).images;
}

/** Straight to the core: most are smaller than the file door admits. */
export async function realPhoto({ file }: RealEntry): Promise<Photo> {
  const image = sharp(FOLDER + file);
  const { exif } = await image.metadata();
  const { data, info } = await image.rotate().removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return {
    picture: raster(info.width, info.height, info.channels, new Uint8Array(data)),
    photoPerPicture: 1,
    widthPx: info.width,
    heightPx: info.height,
    focal35Mm: exif ? focalLengthFromExif(exif) : null,
  };
}

/** From pixel centres at whole numbers to the origin at the outer corner. */
export const cornerOrigin = ([x, y]: Point): Point => [x + 0.5, y + 0.5];

export interface RealRow {
  readonly name: string;
  readonly what: string;
  readonly result: string;
  /** Null where nothing can be held against it. */
  readonly right: boolean | null;
}
