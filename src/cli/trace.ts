import { type Command, Option } from 'commander';
import type { TraceWords } from './run-trace.js';

const AFTER_HELP = `
The photo: pieces of paper lying flat on something of another colour or brightness, all of them in view, apart from one another, and a
scale beside them: a white sheet, a bank card, two rulers about at right angles; with one ruler alone hold the camera straight above.

Written into the folder: pieces.json, pieces.svg (mm), and trace.png, which shows over the photo what was traced. Look at it first.

Exit codes:
  0  traced
  1  the result could not be written, or the program failed
  2  wrong use: an unknown option, or a value that makes no sense
  3  photo not readable: missing, not an image, cut short, under 3 or over 100 megapixels
  4  no scale found
  6  too blurred or too dark
  7  no paper was found that stands out from what it lies on
  8  a piece runs out of the picture
  9  two pieces touch or overlap
  With 3 to 9 the reason stands in refusal.json in the folder, and there is no pieces.json.

Examples:
  stripewright trace sleeve.jpg --out sleeve --sheet a4
  stripewright trace gore.jpg --out gore --outline drawn --as cutting`;

/** Adds the command `trace`. Sets process.exitCode as AFTER_HELP says. */
export function registerTrace(program: Command): void {
  program
    .command('trace')
    .description('make pattern pieces from a photo of paper ones')
    .argument('<photo>', 'JPEG, PNG, WebP, TIFF, AVIF or HEIC')
    .option('--out <folder>', 'where the results go (default: a folder named after the photo)')
    .addOption(
      new Option(
        '--outline <line>',
        "what to follow: the paper's edge, a line drawn on it, or (auto) the drawn line where there is one",
      )
        .choices(['auto', 'edge', 'drawn'])
        .default('auto'),
    )
    .addOption(
      new Option('--as <line>', 'what the traced line is')
        .choices(['stitching', 'cutting'])
        .default('stitching'),
    )
    .option('--sheet <size>', 'scale from a white sheet or card: a4, letter or id1')
    .option(
      '--corners <x,y,x,y,x,y,x,y>',
      "the sheet's four corners, in order round it, instead of finding them",
    )
    .option('--ruler <unit>', 'scale from one ruler or two, marked in mm or inch (auto finds out)')
    .option(
      '--points <x1,y1,x2,y2,LENGTH>',
      'scale from two points in the photo, such as 120,80,3400,95,300mm',
    )
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--json', 'print pieces.json and nothing else; files only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (photo: string, words: TraceWords) => {
      const { runTrace } = await import('./run-trace.js');
      process.exitCode = await runTrace(photo, words);
    });
}
