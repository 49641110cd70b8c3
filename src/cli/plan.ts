import type { Command } from 'commander';
import type { PlanWords } from './run-plan.js';

const AFTER_HELP = `
It lists the name of every piece to cut, point, seam and band, guesses which seams are sewn together, and has the commonest
wishes as examples. Change it to what you want, then give it to "stripewright place".

Exit codes:
  0  written
  1  the plan could not be written, or the program failed
  2  wrong use: an unknown option, or a plan that is there already
  3  model or pieces not usable

Example:
  stripewright plan --model ticking --pieces tunic.pieces.json --out tunic.plan.json`;

/** Adds the command `plan`. Sets process.exitCode as AFTER_HELP says. */
export function registerPlan(program: Command): void {
  program
    .command('plan')
    .description('write a first plan of where the stripes should fall, for you to change')
    .requiredOption('--pieces <file>', 'the pattern pieces: JSON, SVG or DXF')
    .option(
      '--model <path>',
      'a bands.json, or the folder a measurement was written to (without it: plain cloth)',
    )
    .option(
      '--out <file>',
      'where the plan goes (default: named after the pieces, where the command is given)',
    )
    .option('--replace', 'write over a plan that is there already')
    .option('--quiet', 'print nothing')
    .addHelpText('after', AFTER_HELP)
    .action(async (words: PlanWords) => {
      const { runPlan } = await import('./run-plan.js');
      process.exitCode = await runPlan(words);
    });
}
