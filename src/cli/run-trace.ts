import { basename, extname } from 'node:path';
import {
  checkTraceFolder,
  formatPieces,
  type LengthUnit,
  parseReferenceRequest,
  type ReferenceWords,
  tracePhoto,
  traceSummary,
  writeTrace,
  writeTraceRefusal,
} from '../node.js';
import { EXIT_CODES } from './exit-codes.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';
import { during, progressLine } from './progress.js';

/** What was asked for, as typed. */
export interface TraceWords extends Pick<ReferenceWords, 'points' | 'sheet' | 'corners' | 'ruler'> {
  readonly out?: string;
  readonly outline: 'auto' | 'edge' | 'drawn';
  readonly as: 'stitching' | 'cutting';
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** What a person reads while a stage runs. */
const STAGE_WORDS = {
  reference: 'finding the scale',
  paper: 'finding the paper',
  plane: 'taking out the tilt',
  edges: 'tracing the edges',
} as const;

/** Traces one photo, writes and tells. Returns the exit code, as the command's help says. */
export async function runTrace(path: string, words: TraceWords): Promise<number> {
  const { points, sheet, corners, ruler } = words;
  const asked = [points, sheet, corners, ruler].some((word) => word !== undefined);
  const request = asked ? parseReferenceRequest({ points, sheet, corners, ruler }) : null;
  const folder = words.out ?? (words.json ? null : basename(path, extname(path)));
  if (folder !== null) await checkTraceFolder(folder, path);
  const progress = progressLine(process.stderr, !words.quiet && !words.json);
  progress.begin('reading the photo');
  const traced = await tracePhoto(path, request, {
    as: words.as,
    outline: words.outline,
    onStage: (stage) => progress.begin(STAGE_WORDS[stage]),
  }).finally(progress.end);
  if (!traced.ok) {
    if (folder !== null) await writeTraceRefusal(folder, traced.refusal);
    complain(refusalWithOptions(traced.refusal));
    return EXIT_CODES[traced.refusal.reason];
  }
  if (folder !== null) await during(progress, 'writing the results', () => writeTrace(folder, traced.value));
  const { file } = traced.value;
  if (words.json) await print(formatPieces(file));
  else if (!words.quiet)
    await print(`${traceSummary(file, words.units)}\nIn ${folder}: look at trace.png first\n`);
  return 0;
}
