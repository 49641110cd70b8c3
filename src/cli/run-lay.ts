import { basename } from 'node:path';
import {
  DEFAULT_LAY,
  drawLay,
  type LengthUnit,
  layPieces,
  layTable,
  placementOf,
  placePieces,
  type Refusal,
  readPlan,
  writeLay,
} from '../node.js';
import { EXIT_CODES } from './exit-codes.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';
import { progressLine } from './progress.js';

/** What was asked for, as typed. */
export interface LayOptions {
  readonly rounds?: number;
  readonly seed?: number;
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

/** Reads the plan, places its pieces, lays them, writes and tells. Returns the exit code, as the command's help says. */
export async function runLay(path: string, options: LayOptions): Promise<number> {
  const read = await readPlan(path);
  if (!read.ok) return refused(read.refusal);
  const { plan, pieces, source, files } = read.value;
  const model = read.value.model?.model ?? null;
  const progress = progressLine(process.stderr, !options.quiet && !options.json);
  progress.begin('looking for the best places');
  const placings = placePieces(plan, pieces, model);
  progress.end();
  if (!placings.ok) return refused(placings.refusal);
  const placement = placementOf(placings.value, plan.wishes, source, files);
  progress.begin('laying the pieces');
  const { rounds = DEFAULT_LAY.rounds, seed = DEFAULT_LAY.seed } = options;
  const lay = await layPieces(plan, pieces, model, placement, { rounds, seed });
  progress.end();
  if (!lay.ok) return refused(lay.refusal);
  const folder = options.out ?? (options.json ? null : defaultFolder(path));
  if (folder !== null)
    await writeLay(folder, lay.value, drawLay(lay.value, plan, pieces, model, options.units));
  if (options.json) await print(`${JSON.stringify(lay.value, null, 2)}\n`);
  else if (!options.quiet && folder !== null)
    await print(`${layTable(lay.value, options.units)}\nIn ${folder}: look at lay.png first\n`);
  return 0;
}

/** Named after the plan, where the command was given. */
const defaultFolder = (path: string): string => `${basename(path).replace(/(\.plan)?\.json$/i, '')}-laid`;

function refused(refusal: Refusal): number {
  complain(refusalWithOptions(refusal));
  return EXIT_CODES[refusal.reason];
}
