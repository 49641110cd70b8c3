import { createHash } from 'node:crypto';
import { callback, checkAll, optional, plainly, record, text } from '../core/base/expectation.js';
import { LENGTH_UNIT } from '../core/base/length.js';
import {
  type BandModel,
  bandCsv,
  chevronForReport,
  formatBandModel,
  type LengthUnit,
  measureReport,
  modelWords,
  swatchOf,
  trueSizePage,
} from '../index.js';
import type { PhotoMeasurement } from './measure-photo.js';
import {
  framedCloth,
  type OverlayPictures,
  overlayLines,
  overlayPictures,
  swatchFiles,
} from './measurement-pictures.js';
import { CLOTH, checkResultFolder, MEASUREMENT_FILES } from './result-folder.js';
import { staleResults } from './stale-results.js';
import { type ResultFile, writeFiles } from './write-files.js';

export interface WriteOptions {
  /** What lengths are shown in; the files for programs stay in mm. Default mm. */
  readonly unit?: LengthUnit;
  /** The photo's own path, so that it is never overwritten. */
  readonly photoPath?: string;
  /** Told when the pictures are done and writing begins. */
  readonly onWriting?: () => void;
}

/** What was written: the model as it stands in bands.json. */
export interface WrittenMeasurement {
  readonly model: BandModel;
  readonly files: readonly string[];
  /** Folders in which results of an earlier measurement are kept now, such as chevron-earlier. */
  readonly setAside: readonly string[];
  /** The overlay as it stands in report.html. */
  readonly overlay: OverlayPictures['report'];
}

const MEASUREMENT = record(
  {
    model: record({}),
    marks: record({}),
    photo: record({ picture: record({}) }),
    shrunk: plainly('a promise', (value) => value instanceof Promise),
    cloth: callback,
  },
  'what measurePhoto gives',
);
const OPTIONS = record({
  unit: optional(LENGTH_UNIT),
  photoPath: optional(text),
  onWriting: optional(callback),
});

/**
 * Writes bands.json, bands.csv, overlay.png, cloth.png, swatch.png, swatch.svg, report.html and true-size.html into a folder: all of them or
 * none; an earlier result stays until this one is whole, and other files in the folder stay for good. What was drawn from the
 * earlier bands.json is renamed, since it would be taken for this one's. The swatches need a repeat; without one they are left out. Throws UsageError when the folder cannot be meant.
 *
 * @example
 * import { mkdtemp } from 'node:fs/promises';
 * import { tmpdir } from 'node:os';
 * import { join } from 'node:path';
 * import { measurePhoto, writeMeasurement } from 'stripewright/node';
 *
 * const measured = await measurePhoto('samples/painted/ticking-metal-rule.jpg');
 * if (measured.ok) {
 *   const folder = await mkdtemp(join(tmpdir(), 'ticking-'));
 *   const { files } = await writeMeasurement(folder, measured.value, { unit: 'cm' });
 *   console.log(files.includes('report.html')); // true
 * }
 */
export async function writeMeasurement(
  folder: string,
  measurement: PhotoMeasurement,
  options: WriteOptions = {},
): Promise<WrittenMeasurement> {
  checkAll({ folder: [folder, text], measurement: [measurement, MEASUREMENT], options: [options, OPTIONS] });
  const { unit = 'mm', photoPath, onWriting } = options;
  if (photoPath !== undefined) await checkResultFolder(folder, photoPath);
  const { photo, shrunk, marks } = measurement;
  // The overlay takes longest and other threads draw it, so it begins first; the cloth's picture and the model are made meanwhile, and
  // all else once it is handed to them again: what is done on this thread from there on costs no time.
  const ground = await shrunk;
  const drawing = overlayLines(photo, ground, measurement.model, marks, unit);
  // Should what follows fail, that is what will be told.
  drawing.catch(() => {});
  const cloth = measurement.cloth();
  const framed = framedCloth(cloth, measurement.model, unit);
  framed.png.catch(() => {});
  const model: BandModel = {
    ...measurement.model,
    cloth: {
      file: CLOTH,
      px_per_mm: cloth.pxPerMm,
      left_u_mm: cloth.leftUMm - framed.framePx / cloth.pxPerMm,
      top_v_mm: cloth.topVMm + framed.framePx / cloth.pxPerMm,
      frame_px: framed.framePx,
    },
  };
  const swatch = swatchOf(model);
  const json = formatBandModel(model);
  const overlaying = overlayPictures(ground, await drawing);
  overlaying.catch(() => {});
  const swatchEncoding = swatch && swatchFiles(swatch, model, cloth, measurement.closeUp);
  swatchEncoding?.catch(() => {});
  const chevron = chevronForReport(model, unit);
  const [overlay, clothFile, drawn] = await Promise.all([overlaying, framed.png, swatchEncoding]);
  const sha256 = createHash('sha256').update(json).digest('hex');
  const modelMark = modelWords({ file: 'bands.json', sha256 }, null);
  const report = measureReport(model, { unit, overlay: overlay.report, chevron, modelMark });
  const contents: Readonly<Record<(typeof MEASUREMENT_FILES)[number], Uint8Array | string | null>> = {
    'overlay.png': overlay.png,
    [CLOTH]: clothFile,
    'swatch.png': drawn?.png ?? null,
    'swatch.svg': drawn?.svg ?? null,
    'report.html': report,
    'true-size.html': trueSizePage(
      [
        { file: CLOTH, name: 'The cloth', widthMm: framed.widthMm, heightMm: framed.heightMm },
        ...(drawn ? [{ ...drawn, file: 'swatch.png', name: 'One repeat' }] : []),
      ],
      unit,
    ),
    'bands.csv': bandCsv(model),
    'bands.json': json,
  };
  const files = MEASUREMENT_FILES.flatMap((name): ResultFile[] => {
    const content = contents[name];
    return content === null ? [] : [{ name, content }];
  });
  onWriting?.();
  const stale = await staleResults(folder, sha256);
  await writeFiles(
    folder,
    files,
    MEASUREMENT_FILES,
    stale.flatMap((one) => one.moves),
  );
  const setAside = stale.map((one) => one.keptIn);
  return { model, files: files.map((file) => file.name), setAside, overlay: overlay.report };
}
