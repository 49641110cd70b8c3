import { type Command, Option } from 'commander';
import type { PlaceOptions } from './run-place.js';

const AFTER_HELP = `
The plan says which cloth, which pieces, what is sewn to what, and where the stripes should fall; "stripewright plan"
writes a first one to be edited. You get up to five answers, the best first, each of which looks different.

Exit codes:
  0   placed
  1   the result could not be written, or the program failed
  2   wrong use: an unknown option, or a value that makes no sense
  3   plan, pieces or model not usable: missing, damaged, or naming what is not there
  12  what the plan says must be cannot be had on this cloth; nothing is written

Examples:
  stripewright place tunic.plan.json
  stripewright place tunic.plan.json --from cloth --units inch`;

/** Adds the command `place`. Sets process.exitCode as AFTER_HELP says. */
export function registerPlace(program: Command): void {
  program
    .command('place')
    .description(
      'find where on the cloth each piece must lie, so that the stripes fall where a plan wants them',
    )
    .argument('<plan>', 'a plan, such as "stripewright plan" writes')
    .addOption(
      new Option('--from <source>', 'paint with clean bands or with the photographed cloth')
        .choices(['model', 'cloth'])
        .default('model'),
    )
    .addOption(new Option('--units <unit>', 'lengths shown in').choices(['mm', 'cm', 'inch']).default('mm'))
    .option('--out <folder>', 'where the results go (default: a folder named after the plan)')
    .option('--json', 'print place.json and nothing else; pictures only with --out')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (path: string, options: PlaceOptions) => {
      const { runPlace } = await import('./run-place.js');
      process.exitCode = await runPlace(path, options);
    });
}
