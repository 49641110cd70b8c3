import { basename, extname } from 'node:path';
import { type Command, Option } from 'commander';
import {
  checkResultFolder,
  formatBandModel,
  type LengthUnit,
  measurePhoto,
  measureSummary,
  parseReferenceRequest,
  type ReferenceWords,
  type RefusalReason,
  refusalLine,
  writeMeasurement,
} from '../node.js';
import { stageProgress } from './progress.js';

interface MeasureWords extends ReferenceWords {
  readonly out?: string;
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

const EXIT_CODES: Readonly<Record<RefusalReason, number>> = {
  unreadable: 3,
  'no-scale': 4,
  'no-stripes': 5,
  'too-blurred': 6,
  'too-dark': 6,
};

const AFTER_HELP = `
The photo: cloth flat, camera straight above, a ruler flat on the cloth, at least two repeats in view, even light.

Exit codes:
  0  measured
  1  the result could not be written, or the program failed
  2  wrong use: an unknown option, or a value that makes no sense
  3  photo not readable: missing, not an image, cut short, under 3 or over 100 megapixels
  4  no scale found
  5  no stripes found
  6  too blurred or too dark to measure

Examples:
  stripewright measure ticking.jpg
  stripewright measure ticking.jpg --points 412,2210,3480,2195,30cm --units inch
  stripewright measure scan.tif --density 11.811`;

/** Adds the command `measure`. Sets process.exitCode as AFTER_HELP says. */
export function registerMeasure(program: Command): void {
  program
    .command('measure')
    .description('measure the stripes in a photo of cloth with a ruler on it')
    .argument('<photo>', 'JPEG, PNG, WebP, TIFF, AVIF or HEIC')
    .option('--out <folder>', 'where the results go (default: a folder named after the photo)')
    .option('--ruler <unit>', 'marks of the ruler: mm, inch or auto (default: auto)')
    .option(
      '--points <x1,y1,x2,y2,LENGTH>',
      'scale from two points in the photo, such as 120,80,3400,95,300mm',
    )
    .option('--sheet <size>', 'scale from a white sheet or card on the cloth: a4, letter or id1')
    .option(
      '--corners <x,y,x,y,x,y,x,y>',
      "the sheet's four corners, in order round it, instead of finding them",
    )
    .option('--density <px per mm>', 'scale of a flatbed scan: 300 dpi is 11.811')
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--json', 'print the band model and nothing else; files only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (path: string, words: MeasureWords) => {
      process.exitCode = await runMeasure(path, words);
    });
}

async function runMeasure(path: string, words: MeasureWords): Promise<number> {
  const request = parseReferenceRequest(words);
  const folder = words.out ?? (words.json ? null : defaultFolder(path));
  if (folder !== null) await checkResultFolder(folder, path);
  const progress = stageProgress(process.stderr, !words.quiet);
  try {
    const measured = await measurePhoto(path, request, { onStage: progress.begin });
    if (!measured.ok) {
      progress.end();
      process.stderr.write(`${refusalLine(measured.refusal)}\n`);
      return EXIT_CODES[measured.refusal.reason];
    }
    let { model } = measured.value;
    if (folder !== null) {
      progress.begin('pictures');
      const written = await writeMeasurement(folder, measured.value, {
        unit: words.units,
        photoPath: path,
        onWriting: () => progress.begin('writing'),
      });
      model = written.model;
    }
    progress.end();
    if (words.json) await print(formatBandModel(model));
    else if (!words.quiet) {
      await print(
        `${measureSummary(model, words.units)}\nIn ${folder}: look at overlay.png first, then report.html\n`,
      );
    }
    return 0;
  } finally {
    progress.end();
  }
}

/** The photo's name without its ending, where the command was given. */
const defaultFolder = (path: string): string => basename(path, extname(path));

const print = (text: string): Promise<void> =>
  new Promise((done, fail) => {
    process.stdout.write(text, (error) => (error ? fail(error) : done()));
  });
