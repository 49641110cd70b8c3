import { basename, join } from 'node:path';
import {
  type ChevronWords,
  type ClothTexture,
  type CutGround,
  chevronPictures,
  chevronRecord,
  chevronTable,
  type LengthUnit,
  type ModelFile,
  modelWords,
  numberedRepeats,
  originWords,
  parseChevronRequest,
  previewSeams,
  readCloth,
  readModel,
  writeChevron,
} from '../node.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';

/** What was asked for, as typed. */
export interface ChevronOptions extends ChevronWords {
  readonly from: 'model' | 'cloth';
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

const UNREADABLE = 3;

/** Reads the model, draws the seams, writes and tells. Returns the exit code, as the command's help says. */
export async function runChevron(path: string, options: ChevronOptions): Promise<number> {
  const request = parseChevronRequest(options);
  const read = await readModel(path);
  if (!read.ok) return unreadable(refusalWithOptions(read.refusal));
  const { model, file, sha256 } = read.value;
  const source = { file, sha256 };
  const preview = previewSeams(model, request);
  if (!preview.ok) return unreadable(`${file}: ${refusalWithOptions(preview.refusal)}`);
  const cloth = options.from === 'cloth' ? await readCloth(read.value) : null;
  if (cloth !== null && !cloth.ok) return unreadable(refusalWithOptions(cloth.refusal));

  const folder = options.out ?? (options.json ? null : defaultFolder(read.value));
  if (folder === null) {
    const context = { model: source, from: null, seamNames: null, files: [] };
    await print(`${JSON.stringify(chevronRecord(preview.value, context), null, 2)}\n`);
    return 0;
  }
  const words = modelWords(source, model.photo?.file ?? null);
  const ground = await cutGround(read.value, cloth?.ok ? cloth.value : null, options.units);
  const pictures = chevronPictures(preview.value, cloth?.value ?? null, options.units, {
    source: words,
    ground,
  });
  const record = await writeChevron(folder, preview.value, pictures, source, options.from, {
    unit: options.units,
    ground,
    source: words,
  });
  if (options.json) await print(`${JSON.stringify(record, null, 2)}\n`);
  else if (!options.quiet) {
    const sheet = record.files.find((name) => name.endsWith('-sheet.png')) as string;
    await print(`${chevronTable(preview.value, options.units)}\nIn ${folder}: look at ${sheet} first\n`);
  }
  return 0;
}

/** The photographed cloth to show places on; null where there is none beside the model. */
async function cutGround(
  read: ModelFile,
  texture: ClothTexture | null,
  unit: LengthUnit,
): Promise<CutGround | null> {
  const { model } = read;
  if (model.cloth === undefined) return null;
  const cloth = texture ?? (await readCloth(read).then((outcome) => (outcome.ok ? outcome.value : null)));
  if (cloth === null) return null;
  const origin = model.origin ? originWords(model.origin, unit) : null;
  return { texture: cloth, repeats: numberedRepeats(model), originWords: origin };
}

/** Inside a measurement's folder; for a model of another name a folder named after it, where the command was given. */
const defaultFolder = ({ file, folder }: ModelFile): string =>
  file === 'bands.json'
    ? join(folder, 'chevron')
    : `${basename(file).replace(/(\.bands)?\.json$/i, '')}-chevron`;

function unreadable(line: string): number {
  complain(line);
  return UNREADABLE;
}
