import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { check, text } from '../core/base/expectation.js';
import {
  type Outcome,
  type Piece,
  type Plan,
  parsePlan,
  piecesFromValue,
  refuse,
  succeed,
  type UsedFile,
} from '../index.js';
import { sha256OfFile } from './batch-record.js';
import { type ModelFile, readModel } from './read-model.js';
import { readPieces } from './read-pieces.js';

/** A plan with all that it names. */
export interface PlanFile {
  readonly plan: Plan;
  /** Null: plain cloth. */
  readonly model: ModelFile | null;
  readonly pieces: readonly Piece[];
  /** The plan's own file. */
  readonly source: UsedFile;
  /** The files that it names, as named there. */
  readonly files: readonly UsedFile[];
}

/** Reads a plan, and the model and pieces that it names from where it lies. Never throws for a bad file. */
export async function readPlan(path: string): Promise<Outcome<PlanFile>> {
  check(path, 'path', text);
  let bytes: Buffer;
  try {
    bytes = await readFile(path);
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    return refuse(
      'unreadable',
      missing ? `There is no file ${path}` : `${path} cannot be read`,
      'give a plan',
    );
  }
  const parsed = parsePlan(bytes.toString('utf8'));
  if (!parsed.ok)
    return refuse('unreadable', `${basename(path)}: ${parsed.refusal.found}`, parsed.refusal.remedy);
  const plan = parsed.value;
  const beside = (named: string): string => (isAbsolute(named) ? named : join(dirname(path), named));
  const files: UsedFile[] = [];
  let model: ModelFile | null = null;
  if (plan.cloth.model !== null) {
    const read = await readModel(beside(plan.cloth.model));
    if (!read.ok) return read;
    model = read.value;
    files.push({ file: plan.cloth.model, sha256: model.sha256 });
  }
  const pieces: Piece[] = [];
  for (const named of plan.pieceFiles) {
    const read = await readPieces(beside(named));
    if (!read.ok) return read;
    pieces.push(...read.value.pieces.pieces);
    files.push({ file: named, sha256: await sha256OfFile(read.value.path) });
  }
  if (plan.ownPieces.length > 0) {
    const own = piecesFromValue({
      format: 'stripewright.pieces',
      version: 1,
      units: 'mm',
      pieces: plan.ownPieces,
    });
    if (!own.ok) return refuse('unreadable', `${basename(path)}: ${own.refusal.found}`, own.refusal.remedy);
    pieces.push(...own.value.pieces);
  }
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return succeed({ plan, model, pieces, source: { file: basename(path), sha256 }, files });
}
