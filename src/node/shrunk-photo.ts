import sharp from 'sharp';
import type { Photo } from '../index.js';

/** The photo as overlay.png shows it: 3 channels, encoded sRGB. */
export interface ShrunkPhoto {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Long side, px: enough to judge an edge, small enough to open at once. */
const OVERLAY_PX = 2000;

/** Asked for as soon as the photo is read: sharp works on threads of its own while the measurement has this one. */
export async function shrunkPhoto({ picture }: Photo): Promise<ShrunkPhoto> {
  const shrink = Math.min(1, OVERLAY_PX / Math.max(picture.width, picture.height));
  const width = Math.round(picture.width * shrink);
  const height = Math.round(picture.height * shrink);
  const data = await sharp(picture.data, {
    raw: { width: picture.width, height: picture.height, channels: 3 },
  })
    .resize(width, height, { fit: 'fill', kernel: 'cubic' })
    .raw()
    .toBuffer();
  return { width, height, data };
}
