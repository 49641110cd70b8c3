import { rename, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, relative, resolve } from 'node:path';
import { firstPlan, type Refusal, readModel, readPieces, UsageError } from '../node.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';

/** As typed. */
export interface PlanWords {
  readonly model?: string;
  readonly pieces: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly quiet?: boolean;
}

/** Writes a first plan; gives the exit code. */
export async function runPlan({
  model: modelPath,
  pieces: piecesPath,
  out,
  replace,
  quiet,
}: PlanWords): Promise<number> {
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
