import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { checkAll, record, text } from '../core/base/expectation.js';
import { type Outcome, type Placement, parsePlacement, refuse, type UsedFile } from '../index.js';

/** Reads a place.json. Refuses one of another plan than the one given. Never throws for a bad file. */
export async function readPlacement(path: string, plan: UsedFile): Promise<Outcome<Placement>> {
  checkAll({ path: [path, text], plan: [plan, record({ file: text, sha256: text })] });
  let content: string;
  try {
    content = await readFile(path, 'utf8');
  } catch (error) {
    const isMissing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    return refuse(
      'unreadable',
      isMissing ? `There is no file ${path}` : `${path} cannot be read`,
      'give the place.json of the plan, or none',
    );
  }
  const read = parsePlacement(content);
  if (!read.ok) return refuse('unreadable', `${basename(path)}: ${read.refusal.found}`, read.refusal.remedy);
  return read.value.plan.sha256 === plan.sha256
    ? read
    : refuse(
        'unreadable',
        `${basename(path)} was made from another plan, or the plan has been changed since`,
        'place the pieces of the plan anew',
      );
}
