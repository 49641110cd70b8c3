import { join } from 'node:path';
import sharp from 'sharp';
import {
  anyText,
  check,
  finiteNumber,
  numberWithin,
  optional,
  record,
  text,
} from '../core/base/expectation.js';
import { type ClothTexture, type Outcome, raster, refuse, succeed } from '../index.js';
import type { ModelFile } from './read-model.js';

const MODEL_FILE = record(
  {
    model: record({
      cloth: optional(
        record({
          file: text,
          px_per_mm: numberWithin({ above: 0 }),
          left_u_mm: finiteNumber,
          top_v_mm: finiteNumber,
        }),
      ),
    }),
    file: text,
    folder: anyText,
  },
  'what readModel gives',
);

/** The rectified cloth beside a measured model, without its frame. Refused where there is none, or it cannot be read. */
export async function readCloth(modelFile: ModelFile): Promise<Outcome<ClothTexture>> {
  check(modelFile, 'modelFile', MODEL_FILE);
  const { model, file, folder } = modelFile;
  const { cloth } = model;
  if (cloth === undefined) {
    return refuse(
      'unreadable',
      `${file} has no picture of the cloth beside it`,
      'give the folder a measurement was written to, or draw from the model',
    );
  }
  try {
    const frame = cloth.frame_px ?? 0;
    const file = join(folder, cloth.file);
    const { width, height } = await sharp(file).metadata();
    const { data, info } = await sharp(file)
      .extract({ left: frame, top: frame, width: width - 2 * frame, height: height - 2 * frame })
      .ensureAlpha()
      .toColourspace('srgb')
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true });
    return succeed({
      picture: raster(info.width, info.height, info.channels, data),
      pxPerMm: cloth.px_per_mm,
      leftUMm: cloth.left_u_mm + frame / cloth.px_per_mm,
      topVMm: cloth.top_v_mm - frame / cloth.px_per_mm,
    });
  } catch {
    return refuse('unreadable', `${cloth.file} beside ${file} cannot be read`, 'measure the photo again');
  }
}
