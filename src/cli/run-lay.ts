import { basename } from 'node:path';
import {
  DEFAULT_LAY,
  drawLay,
  type LayAnswer,
  type LayDrawing,
  type LaySettings,
  type LengthUnit,
  layDxf,
  layPieces,
  layTable,
  type NamedDrawing,
  type Outcome,
  type Placement,
  type PlanFile,
  placementOf,
  placePieces,
  type Refusal,
  readPlacement,
  readPlan,
  succeed,
  UsageError,
  writeLay,
} from '../node.js';
import { EXIT_CODES } from './exit-codes.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';
import { during, type ProgressLine, progressLine } from './progress.js';

/** What was asked for, as typed. */
export interface LayOptions {
  readonly placement?: string;
  readonly rounds?: number;
  readonly seconds?: number;
  readonly seed?: number;
  readonly widths?: readonly number[];
  readonly repeats?: readonly number[];
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

/** Reads the plan, places its pieces, lays them, writes and tells. Returns the exit code, as the command's help says. */
export async function runLay(path: string, options: LayOptions): Promise<number> {
  if (options.seconds !== undefined && options.rounds !== undefined)
    throw new UsageError('expected rounds or seconds, received both', 'seconds');
  const read = await readPlan(path);
  if (!read.ok) return refused(read.refusal);
  const { plan, pieces } = read.value;
  const model = read.value.model?.model ?? null;
  const progress = progressLine(process.stderr, !options.quiet && !options.json);
  const placement = await placed(read.value, options, progress);
  if (!placement.ok) return refused(placement.refusal);
  const lay = await untilStopped(options, progress, (settings) =>
    layPieces(plan, pieces, model, placement.value, settings),
  );
  if (!lay.ok) return refused(lay.refusal);
  const folder = options.out ?? (options.json ? null : defaultFolder(path));
  if (folder !== null)
    await writeLay(
      folder,
      lay.value,
      drawingsOf(lay.value, (of) => drawLay(of, plan, pieces, model, options.units)),
      layDxf(lay.value, pieces),
    );
  if (options.json) await print(`${JSON.stringify(lay.value, null, 2)}\n`);
  else if (!options.quiet && folder !== null)
    await print(`${layTable(lay.value, options.units)}\nIn ${folder}: look at lay.png first\n`);
  return 0;
}

/** The lay itself, and each way to make the pieces fit. */
function drawingsOf(lay: LayAnswer, draw: (lay: LayAnswer) => LayDrawing): NamedDrawing[] {
  const remedies = lay.remedies.flatMap(({ fits, lengths }, k): NamedDrawing[] =>
    fits ? [{ name: `remedy-${k + 1}`, ...draw({ ...lay, lengths }) }] : [],
  );
  return [{ name: 'lay', ...draw(lay) }, ...remedies];
}

async function placed(
  { plan, pieces, model, source, files }: PlanFile,
  { placement }: LayOptions,
  progress: ProgressLine,
): Promise<Outcome<Placement>> {
  if (placement !== undefined) return readPlacement(placement, source);
  const placings = await during(progress, 'looking for the best places', () =>
    placePieces(plan, pieces, model?.model ?? null),
  );
  return placings.ok ? succeed(placementOf(placings.value, plan.wishes, source, files)) : placings;
}

/** So often others get their turn: often enough for an interrupt to seem heeded at once. */
const TURN_MS = 50;

/** Looks for a lay for as long as was asked, or until an interrupt: then the best so far is the answer. A second interrupt ends the program. */
async function untilStopped<T>(
  { seconds, rounds, seed, widths, repeats }: LayOptions,
  progress: ProgressLine,
  work: (settings: LaySettings) => Promise<T>,
): Promise<T> {
  const began = performance.now();
  let paused = began;
  let isOver = false;
  const stop = (): void => {
    isOver = true;
  };
  process.once('SIGINT', stop);
  const settings: LaySettings = {
    rounds: rounds ?? DEFAULT_LAY.rounds,
    seed: seed ?? DEFAULT_LAY.seed,
    ...(widths === undefined ? {} : { widthsMm: widths }),
    ...(repeats === undefined ? {} : { repeatsMm: repeats }),
    ...(seconds === undefined
      ? {}
      : { spentPart: () => Math.min(1, (performance.now() - began) / (1000 * Math.max(seconds, 1e-3))) }),
    isOver: () => isOver,
    tell: (words) => progress.begin(`${words} (Ctrl-C: the best so far)`),
    pause: async () => {
      if (performance.now() - paused < TURN_MS) return;
      await new Promise((done) => setImmediate(done));
      paused = performance.now();
    },
  };
  try {
    return await work(settings);
  } finally {
    process.off('SIGINT', stop);
    progress.end();
  }
}

/** Named after the plan, where the command was given. */
const defaultFolder = (path: string): string => `${basename(path).replace(/(\.plan)?\.json$/i, '')}-laid`;

function refused(refusal: Refusal): number {
  complain(refusalWithOptions(refusal));
  return EXIT_CODES[refusal.reason];
}
