import sharp from 'sharp';
import { bytes, check, eitherOf, text, textLike } from '../core/base/expectation.js';
import type { Thumbnail } from '../index.js';

/** Long side, px: sharp at the size of a card on paper, some 10 KB. */
const SIDE_PX = 320;

/** A picture file made small, as a data URI; null when it cannot be read. */
export async function thumbnailOf(picture: string | Uint8Array): Promise<Thumbnail | null> {
  check(picture, 'picture', eitherOf(text, bytes));
  try {
    const { data, info } = await sharp(picture, { limitInputPixels: 1e8 })
      .autoOrient()
      .resize(SIDE_PX, SIDE_PX, { fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 72 })
      .toBuffer({ resolveWithObject: true });
    const uri = `data:image/jpeg;base64,${data.toString('base64')}`;
    return { uri, widthPx: info.width, heightPx: info.height };
  } catch {
    return null;
  }
}

/** The same of a picture that is a data URI already. */
export async function thumbnailOfUri(uri: string): Promise<Thumbnail | null> {
  check(uri, 'uri', textLike(/^data:[^,]*,/, 'a data URI'));
  return thumbnailOf(Buffer.from(uri.slice(uri.indexOf(',') + 1), 'base64'));
}
