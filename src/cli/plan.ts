import { rename, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, relative, resolve } from 'node:path';
import type { Command } from 'commander';
import { firstPlan, type Refusal, readModel, readPieces, UsageError } from '../node.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';

interface PlanOptions {
  readonly model?: string;
  readonly pieces: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly quiet?: boolean;
}

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
    .action(async (options: PlanOptions) => {
      process.exitCode = await runPlan(options);
    });
}

async function runPlan({
  model: modelPath,
  pieces: piecesPath,
  out,
  replace,
  quiet,
}: PlanOptions): Promise<number> {
  const model = modelPath === undefined ? null : await readModel(modelPath);
  if (model !== null && !model.ok) return refused(model.refusal);
  const pieces = await readPieces(piecesPath);
  if (!pieces.ok) return refused(pieces.refusal);
  const file = out ?? `${basename(piecesPath).replace(/(\.pieces)?\.(json|svg|dxf)$/i, '')}.plan.json`;
  const isThere = await stat(file).then(
    () => true,
    () => false,
  );
  if (isThere && !replace)
    throw new UsageError(`${file} is there already: give another name, or --replace to write over it`, 'out');
  // The plan names its files from where it lies.
  const fromPlan = (path: string): string => relative(dirname(resolve(file)), resolve(path)) || '.';
  const text = firstPlan(
    model === null ? null : model.value.model,
    modelPath === undefined ? null : fromPlan(modelPath),
    pieces.value.pieces.pieces,
    fromPlan(piecesPath),
  );
  const draft = `${file}.${process.pid}.tmp`;
  await writeFile(draft, text);
  await rename(draft, file);
  if (!quiet)
    await print(
      `Written: ${file}. Which seams are sewn together is guessed in it, and its wishes are examples: change them to what you want, then run "stripewright place ${file}"\n`,
    );
  return 0;
}

function refused(refusal: Refusal): number {
  complain(refusalWithOptions(refusal));
  return 3;
}
