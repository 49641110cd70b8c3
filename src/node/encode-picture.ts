import sharp from 'sharp';
import type { PictureJob } from '../index.js';

/** Written by most of the time; higher levels save a tenth of the size for many times the work. */
const COMPRESSION = 3;

/** Paints a picture, lays its lettering over it and encodes both files. Density in the PNG is its true size. */
export async function encodePicture(
  job: PictureJob,
): Promise<{ readonly png: Buffer; readonly svg: string }> {
  const page = job.paint();
  const raw = { width: page.width, height: page.height, channels: 4 as const };
  const png = await sharp(page.data, { raw })
    .composite([{ input: Buffer.from(job.lettering) }])
    .removeAlpha()
    .withDensity(job.pxPerMm * 25.4)
    .png({ compressionLevel: COMPRESSION })
    .toBuffer();
  if (!job.embedsPage) return { png, svg: job.svg(null) };
  const bare = await sharp(page.data, { raw })
    .removeAlpha()
    .png({ compressionLevel: COMPRESSION })
    .toBuffer();
  return { png, svg: job.svg(`data:image/png;base64,${bare.toString('base64')}`) };
}
