import { type Command, Option } from 'commander';
import type { LayOptions } from './run-lay.js';

const AFTER_HELP = `
The plan is one that "stripewright place" takes, with the lengths of cloth in hand under "lengths": width, length, which way
the stripes run, and where they start. Pieces are laid so that the stripes fall as they were placed.

Exit codes:
  0   laid; also where the pieces do not all fit, which is said
  1   the result could not be written, or the program failed
  2   wrong use: an unknown option, or a value that makes no sense
  3   plan, pieces or model not usable: missing, damaged, naming what is not there, or without lengths of cloth
  12  what the plan says must be cannot be had on this cloth; nothing is written

Examples:
  stripewright lay tunic.plan.json
  stripewright lay tunic.plan.json --seconds 60 --units inch`;

const whole = (words: string): number => (/^\d+$/.test(words.trim()) ? Number(words) : Number.NaN);

/** Adds the command `lay`. Sets process.exitCode as AFTER_HELP says. */
export function registerLay(program: Command): void {
  program
    .command('lay')
    .description('lay the pieces of a plan on the lengths of cloth in hand, stripes as they were placed')
    .argument('<plan>', 'a plan with lengths of cloth')
    .option('--rounds <n>', 'how long to look for a shorter lay; the same number finds the same lay', whole)
    .option('--seed <n>', 'where chance starts (default: 1)', whole)
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
