import { type Command, Option } from 'commander';
import { parseLengthMm } from '../node.js';
import type { LayOptions } from './run-lay.js';

const AFTER_HELP = `
The plan is one that "stripewright place" takes, with the lengths of cloth in hand under "lengths": width, length, which way
the stripes run, and where they start. Pieces are laid so that the stripes fall as they were placed. You get lay.json, a
drawing to scale (lay.png, lay.svg, lay.dxf), and, where the pieces do not fit, a drawing of each way to make them fit.
Ctrl-C ends the search, and gives the best lay found so far; a second one ends the program.

Exit codes:
  0   laid; also where the pieces do not all fit, which is said
  1   the result could not be written, or the program failed
  2   wrong use: an unknown option, or a value that makes no sense
  3   plan, pieces or model not usable: missing, damaged, naming what is not there, or without lengths of cloth
  12  what the plan says must be cannot be had on this cloth; nothing is written

Examples:
  stripewright lay tunic.plan.json
  stripewright lay tunic.plan.json --seconds 60 --units inch
  stripewright lay tunic.plan.json --widths 90cm,140cm --repeats 20mm,40mm`;

const lengths =
  (parameter: string) =>
  (words: string): number[] =>
    words.split(',').map((one) => parseLengthMm(one.trim(), parameter));
const whole = (words: string): number => (/^\d+$/.test(words.trim()) ? Number(words) : Number.NaN);

/** Adds the command `lay`. Sets process.exitCode as AFTER_HELP says. */
export function registerLay(program: Command): void {
  program
    .command('lay')
    .description('lay the pieces of a plan on the lengths of cloth in hand, stripes as they were placed')
    .argument('<plan>', 'a plan with lengths of cloth')
    .option('--placement <file>', 'a place.json of this plan; without it the pieces are placed first')
    .option('--seconds <n>', 'look for so long: more seconds find less cloth', Number)
    .option(
      '--rounds <n>',
      'look for so many rounds instead (default: 6000): the same number finds the same lay on every machine',
      whole,
    )
    .option('--seed <n>', 'where chance starts (default: 1)', whole)
    .option(
      '--widths <list>',
      'tell what the pieces take of cloths of these widths, such as 90cm,140cm,60in',
      lengths('widths'),
    )
    .option(
      '--repeats <list>',
      'likewise of stripes with these repeats across, such as 30mm,60mm',
      lengths('repeats'),
    )
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--out <folder>', 'where the results go (default: a folder named after the plan)')
    .option('--json', 'print lay.json and nothing else; files only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (path: string, options: LayOptions) => {
      const { runLay } = await import('./run-lay.js');
      process.exitCode = await runLay(path, options);
    });
}
