import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import {
  anyText,
  anything,
  callback,
  checkAll,
  listOf,
  numberWithin,
  oneOf,
  optional,
  orNull,
  record,
  text,
  yesOrNo,
} from '../core/base/expectation.js';
import { LENGTH_UNIT } from '../core/base/length.js';
import {
  type ChevronPictures,
  type ChevronPreview,
  type ChevronRecord,
  type CutGround,
  chevronPage,
  chevronRecord,
  type LengthUnit,
  type ModelSource,
} from '../index.js';
import { encodePicture } from './encode-picture.js';
import { CHEVRON_FILE, CHEVRON_RECORD } from './result-folder.js';
import { type ResultFile, writeFiles } from './write-files.js';

const PAGE = 'chevron.html';

const PICTURES = record(
  {
    jobs: listOf(
      record({
        name: text,
        pxPerMm: numberWithin({ above: 0 }),
        paint: callback,
        lettering: anyText,
        svg: callback,
        embedsPage: yesOrNo,
      }),
    ),
    seamNames: listOf(listOf(text)),
    title: text,
    plans: orNull(listOf(anything)),
  },
  'what chevronPictures gives',
);
const CONTEXT = record({
  unit: optional(LENGTH_UNIT),
  ground: optional(orNull(record({ texture: record({}) }))),
  source: optional(orNull(text)),
  modelText: optional(orNull(text)),
});

/**
 * Writes all pictures of a preview and chevron.json into a folder, and takes away pictures that an earlier
 * run left there. Gives back the record as written.
 */
export async function writeChevron(
  folder: string,
  preview: ChevronPreview,
  pictures: ChevronPictures,
  model: ModelSource,
  from: 'model' | 'cloth',
  context: ChevronContext = {},
): Promise<ChevronRecord> {
  checkAll({
    folder: [folder, text],
    pictures: [pictures, PICTURES],
    from: [from, oneOf(['model', 'cloth'])],
    context: [context, CONTEXT],
  });
  const { unit = 'mm', ground = null, source = null, modelText = null } = context;
  const encoded = await Promise.all(pictures.jobs.map(encodePicture));
  const small = (name: string): Promise<string> =>
    pageImage(encoded[pictures.jobs.findIndex((job) => job.name === name)].png);
  const page = chevronPage(preview, {
    title: pictures.title,
    unit,
    pictures: from === 'cloth' ? await inShape(pictures.seamNames, small) : null,
    cloth:
      ground !== null && pictures.plans !== null
        ? { uri: await clothImage(ground.texture), plans: pictures.plans }
        : null,
    source,
  });
  const files: ResultFile[] = encoded.flatMap(({ png, svg }, i) => [
    { name: `${pictures.jobs[i].name}.png`, content: png },
    { name: `${pictures.jobs[i].name}.svg`, content: svg },
  ]);
  files.push({ name: PAGE, content: page });
  if (modelText !== null) files.push({ name: model.file, content: modelText });
  const record = chevronRecord(preview, {
    model,
    from,
    seamNames: pictures.seamNames,
    files: [...files.map((file) => file.name), CHEVRON_RECORD],
  });
  files.push({ name: CHEVRON_RECORD, content: `${JSON.stringify(record, null, 2)}\n` });
  await writeFiles(folder, files, await formerFiles(folder));
  return record;
}

/** What the folder and its page say and show besides the preview. */
export interface ChevronContext {
  /** Default mm. */
  readonly unit?: LengthUnit;
  /** The cloth that the pictures' plans are drawn on. */
  readonly ground?: CutGround | null;
  readonly source?: string | null;
  /** The text of the model, to be kept under its name beside the pictures, where it has no file yet. */
  readonly modelText?: string | null;
}

const inShape = <T>(
  names: readonly (readonly string[])[],
  of: (name: string) => Promise<T>,
): Promise<T[][]> => Promise.all(names.map((row) => Promise.all(row.map(of))));

/** Long side of a picture within the page, px: sharp on a phone. */
const PAGE_PX = 720;

async function pageImage(png: Buffer): Promise<string> {
  const jpeg = await sharp(png).resize(PAGE_PX, PAGE_PX, { fit: 'inside' }).jpeg({ quality: 80 }).toBuffer();
  return `data:image/jpeg;base64,${jpeg.toString('base64')}`;
}

/** The cloth, see-through where nothing was photographed. */
async function clothImage({ picture }: CutGround['texture']): Promise<string> {
  const { width, height, data } = picture;
  const webp = await sharp(data, { raw: { width, height, channels: 4 } })
    .resize(1000, 1000, { fit: 'inside', withoutEnlargement: true })
    .webp({ quality: 80 })
    .toBuffer();
  return `data:image/webp;base64,${webp.toString('base64')}`;
}

/** What an earlier chevron.json in the folder says it wrote. */
async function formerFiles(folder: string): Promise<string[]> {
  try {
    const former: unknown = JSON.parse(await readFile(join(folder, CHEVRON_RECORD), 'utf8'));
    const { format, files } = former as Partial<ChevronRecord>;
    return format === 'stripewright.chevron' && Array.isArray(files)
      ? files.filter((name) => CHEVRON_FILE.test(name))
      : [];
  } catch {
    return [];
  }
}
