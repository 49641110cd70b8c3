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
  type Outcome,
  originWords,
  parseChevronRequest,
  previewSeams,
  readCloth,
  readModel,
  succeed,
  typedClothWords,
  typedModelFile,
  UsageError,
  writeChevron,
} from '../node.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';

/** What was asked for, as typed. */
export interface ChevronOptions extends ChevronWords {
  readonly cloth?: string;
  readonly from: 'model' | 'cloth';
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

const UNREADABLE = 3;

/** Reads the model, draws the seams, writes and tells. Returns the exit code, as the command's help says. */
export async function runChevron(path: string | undefined, options: ChevronOptions): Promise<number> {
  const request = parseChevronRequest(options);
  const read = await modelGiven(path, options.cloth);
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
    complainOfTyping(read.value);
    return 0;
  }
  const words = modelWords(source, model.photo?.file || null);
  const ground = await cutGround(read.value, cloth?.ok ? cloth.value : null, options.units);
  const pictures = chevronPictures(preview.value, cloth?.value ?? null, options.units, {
    source: words,
    ground,
  });
  const record = await writeChevron(folder, preview.value, pictures, source, options.from, {
    unit: options.units,
    ground,
    source: words,
    modelText: read.value.text,
  });
  if (!options.quiet) complainOfTyping(read.value);
  if (options.json) await print(`${JSON.stringify(record, null, 2)}\n`);
  else if (!options.quiet) {
    const sheet = record.files.find((name) => name.endsWith('-sheet.png')) as string;
    const typed = read.value.text === null ? '' : `${typedClothWords(model, options.units).join('\n')}\n`;
    await print(
      `${typed}${chevronTable(preview.value, options.units)}\nIn ${folder}: look at ${sheet} first\n`,
    );
  }
  return 0;
}

/** A model, and its text where it has no file yet. */
type GivenModel = ModelFile & { readonly text: string | null };

/** The model of the file or folder that was named, or of the cloth that was typed. */
async function modelGiven(path: string | undefined, cloth: string | undefined): Promise<Outcome<GivenModel>> {
  const either =
    'a bands.json or the folder a measurement was written to, or --cloth with the bands as words';
  if (path !== undefined && cloth !== undefined) throw new UsageError(`expected ${either}, received both`);
  if (cloth !== undefined) return succeed(typedModelFile(cloth));
  if (path === undefined) throw new UsageError(`expected ${either}, received neither`);
  const read = await readModel(path);
  return read.ok ? succeed({ ...read.value, text: null }) : read;
}

/** How a typed line was understood, where that may not be how it was meant. */
function complainOfTyping({ model, text }: GivenModel): void {
  if (text !== null) for (const { message } of model.warnings) complain(message);
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

/** Inside a measurement's folder; for a model of another name a folder named after it, for typed cloth one named after its colours, where the command was given. */
function defaultFolder({ file, folder, model, text }: GivenModel): string {
  if (text !== null) return `${folderWords(model.colours.map(({ name }) => name))}-chevron`;
  return file === 'bands.json'
    ? join(folder, 'chevron')
    : `${basename(file).replace(/(\.bands)?\.json$/i, '')}-chevron`;
}

/** Colours tell cloths apart well enough; more than a few make a name that nobody can read. */
const NAMED_COLOURS = 4;
const folderWords = (names: readonly string[]): string =>
  names.slice(0, NAMED_COLOURS).join('-').replace(/\s+/g, '-');

function unreadable(line: string): number {
  complain(line);
  return UNREADABLE;
}
