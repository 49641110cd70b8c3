import { basename, extname, join } from 'node:path';
import { type Command, Option } from 'commander';
import { checkResultFolder, holdsUnlisted, readBatchList, UsageError } from '../node.js';
import type { BatchWords } from './batch/batch-words.js';
import { EXIT_CODES } from './exit-codes.js';
import { type Measured, type MeasureWords, measureOne } from './measure-one.js';
import { SERVE } from './names.js';
import { refusalWithOptions, withOptions } from './option-words.js';
import { photosAsked } from './photos-asked.js';
import { complain, print } from './print.js';
import { stageProgress } from './progress.js';

/** Something that was asked for is not there; the rest was measured. */
const SOME_MISSING = 1;

const AFTER_HELP = `
The photo: cloth flat, camera straight above, a ruler flat on the cloth, at least two repeats in view, even light.

Several photos: a folder each, and index.html and index.csv of all. What is done already is kept: give the same
command again to go on after an interrupt, or to add photos. With --shard 1/4 to 4/4 four machines do a part each
(index-1-of-4.csv ...); the same command without --shard, over all their folders together, makes the index of all.

One photo of many, put right: give it by itself, with the same --out and with what it needs. It is measured in its own
folder there, the index is written again, and it keeps its options when all are measured again.

Exit codes:
  0  measured
  1  the result could not be written, or the program failed; of several photos: some failed, listed with their reasons
  2  wrong use: an unknown option, or a value that makes no sense
  3  photo not readable: missing, not an image, cut short, under 1 or over 100 megapixels
  4  no scale found
  5  no stripes found
  6  too blurred or too dark to measure

Examples:
  stripewright measure ticking.jpg
  stripewright measure ticking.jpg --points 412,2210,3480,2195,30cm --units inch
  stripewright measure scan.tif --density 11.811
  stripewright measure *.jpg --out catalogue
  stripewright measure sash.jpg --out catalogue --region 400,300,2000,1500`;

/** Adds the command `measure`. Sets process.exitCode as AFTER_HELP says. */
export function registerMeasure(program: Command): void {
  program
    .command('measure')
    .description('measure the stripes in a photo of cloth with a ruler on it')
    .argument(
      '<photo...>',
      'JPEG, PNG, WebP, TIFF, AVIF or HEIC; a folder of them; or a pattern such as "*.jpg"',
    )
    .option(
      '--out <folder>',
      'where the results go (default: a folder named after the photo; of several, "measured")',
    )
    .option('--ruler <unit>', 'marks of the ruler: mm, inch or auto (default: auto)')
    .option(
      '--ruler-class <class>',
      'how true the ruler is made, marked on good ones: I, II or III (default: II)',
    )
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
    .option('--direction <degrees>', 'how the stripes run: 0 level, 90 upright, 45 rising to the right')
    .option('--region <x,y,w,h>', 'read only this part of the photo for stripes; the ruler may lie outside')
    .option('--bands <number>', 'how many bands make one repeat')
    .option(
      '--names <list>',
      'what to call the colours: ochre,indigo,ivory, or A=indigo,C=ochre by the letters of an earlier result',
    )
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--json', 'print the band model and nothing else; of several, a line each; files only with --out')
    .option('--quiet', 'print nothing')
    .option('--jobs <number>', 'photos measured at once (default: as many as cores and memory allow)')
    .option('--memory <MB>', 'memory for all that are measured at once (default: 70 % of what is free)')
    .option('--shard <i/n>', 'measure one part of n of the photos, to spread them over machines')
    .addHelpText('after', AFTER_HELP)
    .action(async (asked: string[], words: BatchWords, command: Command) => {
      const { photos, byFolder, empty } = await photosAsked(asked);
      for (const name of empty) complain(noPhotoLine(name));
      if (photos.length === 0) {
        process.exitCode = EXIT_CODES.unreadable;
        return;
      }
      const isBatch =
        photos.length > 1 ||
        byFolder ||
        words.shard !== undefined ||
        words.jobs !== undefined ||
        words.memory !== undefined;
      const version = program.version() as string;
      const typed = (name: string): boolean => command.getOptionValueSource(name) !== 'default';
      const code = isBatch
        ? await runBatch(photos, words, version)
        : await runOne(photos[0], words, typed, version);
      process.exitCode = code === 0 && empty.length > 0 ? SOME_MISSING : code;
    });
}

async function runBatch(photos: readonly string[], words: BatchWords, version: string): Promise<number> {
  const { measureBatch } = await import('./batch/measure-batch.js');
  return measureBatch(photos, words, { version, serveWords: [SERVE] });
}

/** One photo: into a folder of its own, or into its place in a folder of many. `typed`: whether an option was given. */
async function runOne(
  path: string,
  words: BatchWords,
  typed: (name: string) => boolean,
  version: string,
): Promise<number> {
  const { out } = words;
  const list = out === undefined ? null : await readBatchList(out);
  if (out === undefined || list === null) {
    if (out !== undefined && (await holdsUnlisted(out))) {
      throw new UsageError(
        `${out} holds photos that were measured together, and no index of them yet: give the command for all of them once more, which keeps what is done, and then for this one`,
      );
    }
    return runMeasure(path, words, words, out ?? (words.json ? null : defaultFolder(path)));
  }
  const { photoOfBatch } = await import('./batch/measure-into-batch.js');
  const { lastingOptions } = await import('./batch/own-options.js');
  const own = Object.entries(lastingOptions(words)).filter(([name]) => typed(name));
  const one = await photoOfBatch(path, out, list, Object.fromEntries(own), version);
  return runMeasure(path, one.words, words, one.folder, one.finish);
}

async function runMeasure(
  path: string,
  words: MeasureWords,
  { json, quiet }: Pick<BatchWords, 'json' | 'quiet'>,
  folder: string | null,
  finish: (measured: Measured) => Promise<readonly string[]> = async () => [],
): Promise<number> {
  if (folder !== null) await checkResultFolder(folder, path);
  const progress = stageProgress(process.stderr, !quiet);
  try {
    const measured = await measureOne(path, words, folder, progress.begin);
    progress.end();
    if (!measured.ok) {
      complain(refusalWithOptions(measured.refusal));
      return EXIT_CODES[measured.refusal.reason];
    }
    const { formatBandModel, measureSummary } = await import('../node.js');
    const { model, setAside = [] } = measured.value;
    const notes = [
      ...(setAside.length === 0 ? [] : [setAsideLine(setAside.map((name) => join(folder ?? '', name)))]),
      ...(await finish(measured.value)),
    ];
    if (json) await print(formatBandModel(model));
    if (quiet) return 0;
    if (json) for (const line of notes) complain(line);
    else {
      const look = `In ${folder}: look at overlay.png first, then report.html`;
      await print(`${[measureSummary(model, words.units, withOptions), look, ...notes].join('\n')}\n`);
    }
    return 0;
  } finally {
    progress.end();
  }
}

const noPhotoLine = (name: string): string =>
  /[*?[]/.test(name)
    ? `No photo fits ${name}: give the photos, or the folder they are in`
    : `${name} is a folder without photos: give photos, or a folder that holds them itself, not in folders inside it`;

const setAsideLine = (places: readonly string[]): string =>
  `What had been drawn from the earlier measurement is kept in ${places.join(' and ')}: draw it again from the new one with "stripewright chevron"`;

/** The photo's name without its ending, where the command was given. */
const defaultFolder = (path: string): string => basename(path, extname(path));
