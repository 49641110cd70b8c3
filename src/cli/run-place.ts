import { basename } from 'node:path';
import {
  type LengthUnit,
  namesIn,
  outcomeWords,
  placementOf,
  placementPictures,
  placePieces,
  placeTable,
  type Refusal,
  readPlan,
  writePlacement,
} from '../node.js';
import { EXIT_CODES } from './exit-codes.js';
import { refusalWithOptions } from './option-words.js';
import { complain, print } from './print.js';
import { during, progressLine } from './progress.js';

/** What was asked for, as typed. */
export interface PlaceOptions {
  readonly from: 'model' | 'cloth';
  readonly units: LengthUnit;
  readonly json?: boolean;
  readonly quiet?: boolean;
  readonly out?: string;
}

/** Reads the plan, places the pieces, writes and tells. Returns the exit code, as the command's help says. */
export async function runPlace(path: string, options: PlaceOptions): Promise<number> {
  const read = await readPlan(path);
  if (!read.ok) return refused(read.refusal);
  const { plan, model, pieces, source, files } = read.value;
  const progress = progressLine(process.stderr, !options.quiet && !options.json);
  const placings = await during(progress, 'looking for the best places', () =>
    placePieces(plan, pieces, model?.model ?? null),
  );
  if (!placings.ok) return refused(placings.refusal);
  const placement = placementOf(placings.value, plan.wishes, source, files);
  const folder = options.out ?? (options.json ? null : defaultFolder(path));
  if (folder !== null) {
    const pictures = await during(progress, 'drawing the garment', () =>
      placementPictures(read.value, placings.value, placement, options),
    );
    if (!pictures.ok) return refused(pictures.refusal);
    await writePlacement(folder, placement, pictures.value.sheets, pictures.value.page);
  }
  const names = namesIn(model?.model ?? null);
  const told = plan.wishes.map((wish, k) =>
    outcomeWords(wish, placement.answers[0].wishes[k], options.units, names),
  );
  if (options.json) await print(`${JSON.stringify(placement, null, 2)}\n`);
  else if (!options.quiet && folder !== null)
    await print(
      `${placeTable(placement, told, options.units)}\nIn ${folder}: look at answers.png first, then place.html\n`,
    );
  return 0;
}

/** Named after the plan, where the command was given. */
const defaultFolder = (path: string): string => `${basename(path).replace(/(\.plan)?\.json$/i, '')}-placed`;

function refused(refusal: Refusal): number {
  complain(refusalWithOptions(refusal));
  return EXIT_CODES[refusal.reason];
}
