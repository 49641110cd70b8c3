import { join } from 'node:path';
import { type Command, Option } from 'commander';
import {
  type ChevronWords,
  chevronPictures,
  chevronRecord,
  chevronTable,
  LAYS,
  type LengthUnit,
  parseChevronRequest,
  previewSeams,
  refusalLine,
  UsageError,
} from '../index.js';
import { type ModelFile, readCloth, readModel, writeChevron } from '../node.js';

interface ChevronOptions extends ChevronWords {
  readonly from: 'model' | 'cloth';
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

const WRONG_USE = 2;
const UNREADABLE = 3;

/** Adds the command `chevron`. Sets process.exitCode: 0 drawn, 2 wrong use, 3 model or cloth not usable. */
export function registerChevron(program: Command): void {
  program
    .command('chevron')
    .description('show how two pieces of a measured cloth meet at a seam, and what mismatch to expect')
    .argument('<model>', 'a bands.json, or the folder a measurement was written to')
    .option(
      '--angles <list>',
      'degrees between stripe and seam: 30,45,60, or 45/38 for unequal sides',
      '30,45,60',
    )
    .option(
      '--centre <bands>',
      'band that meets the seam at the ring: its id, or its colour if no other band has it (default: each in turn)',
    )
    .option('--at <length>', 'place of the ring, from the top of the seam (default: its middle)')
    .option('--seam <length>', 'length of the seam', '400mm')
    .option('--shift <length>', 'slip the right half by so much across its stripes')
    .option('--allowance <length>', 'seam allowance', '15mm')
    .addOption(
      new Option(
        '--lay <way>',
        'how the right half lies on the cloth (default: the best lawful way)',
      ).choices([...LAYS]),
    )
    .option('--anyway', 'draw a lay that the cloth forbids, with its true mismatch')
    .option('--inverted', 'point of the V upwards')
    .addOption(
      new Option('--from <source>', 'paint with clean bands or with the photographed cloth')
        .choices(['model', 'cloth'])
        .default('model'),
    )
    .addOption(new Option('--units <unit>', 'units shown').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--out <folder>', 'where the pictures go (default: "chevron" in the model\'s folder)')
    .option('--json', 'print chevron.json and nothing else; pictures only with --out')
    .option('--quiet', 'print nothing')
    .action(async (path: string, options: ChevronOptions) => {
      try {
        process.exitCode = await runChevron(path, options);
      } catch (error) {
        if (!(error instanceof UsageError)) throw error;
        process.exitCode = complain(error.message, WRONG_USE);
      }
    });
}

async function runChevron(path: string, options: ChevronOptions): Promise<number> {
  const request = parseChevronRequest(options);
  const read = await readModel(path);
  if (!read.ok) return complain(refusalLine(read.refusal), UNREADABLE);
  const preview = previewSeams(read.value.model, request);
  if (!preview.ok) return complain(`${read.value.file}: ${refusalLine(preview.refusal)}`, UNREADABLE);
  const cloth = options.from === 'cloth' ? await readCloth(read.value) : null;
  if (cloth !== null && !cloth.ok) return complain(refusalLine(cloth.refusal), UNREADABLE);

  if (options.json === true && options.out === undefined) {
    const record = chevronRecord(preview.value, {
      modelFile: read.value.file,
      from: null,
      seamNames: null,
      files: [],
    });
    print(JSON.stringify(record, null, 2));
    return 0;
  }
  const pictures = chevronPictures(preview.value, cloth?.value ?? null, options.units);
  const folder = options.out ?? defaultFolder(path, read.value);
  const record = await writeChevron(folder, preview.value, pictures, read.value.file, options.from);
  if (options.json === true) print(JSON.stringify(record, null, 2));
  else if (options.quiet !== true) {
    const sheet = record.files.find((name) => name.endsWith('-sheet.png')) as string;
    print(
      `${chevronTable(preview.value, options.units)}\n${record.files.length} files in ${folder}; look at ${join(folder, sheet)} first`,
    );
  }
  return 0;
}

/** Inside a measurement's folder, beside a model of another name. */
const defaultFolder = (path: string, { file, folder }: ModelFile): string =>
  file === 'bands.json' ? join(folder, 'chevron') : `${path.replace(/(\.bands)?\.json$/i, '')}-chevron`;

const print = (text: string): void => {
  process.stdout.write(`${text.trimEnd()}\n`);
};

function complain(line: string, code: number): number {
  process.stderr.write(`${line}\n`);
  return code;
}
