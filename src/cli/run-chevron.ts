import { basename, join } from 'node:path';
import {
  type ChevronWords,
  chevronPictures,
  chevronRecord,
  chevronTable,
  type LengthUnit,
  type ModelFile,
  modelWords,
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
  const pictures = chevronPictures(
    preview.value,
    cloth?.value ?? null,
    options.units,
    modelWords(source, model.photo?.file ?? null),
  );
  const record = await writeChevron(folder, preview.value, pictures, source, options.from);
  if (options.json) await print(`${JSON.stringify(record, null, 2)}\n`);
  else if (!options.quiet) {
    const sheet = record.files.find((name) => name.endsWith('-sheet.png')) as string;
    await print(`${chevronTable(preview.value, options.units)}\nIn ${folder}: look at ${sheet} first\n`);
  }
  return 0;
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
