import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  layPieces,
  parseBandModel,
  parsePieces,
  parsePlan,
  placementOf,
  placePieces,
} from '../../../src/index.js';
import { faultsOfLay } from '../../support/lay/check-lay.js';

const read = (name: string): string =>
  readFileSync(new URL(`../../../samples/${name}`, import.meta.url), 'utf8');
const okOf = <T>(outcome: { ok: true; value: T } | { ok: false; refusal: { found: string } }): T => {
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const NO_FILE = { file: 'plan.json', sha256: '0' };

describe('the sample tunic', async () => {
  const plan = okOf(parsePlan(read('pieces/tunic.plan.json')));
  const pieces = okOf(parsePieces(read('pieces/tunic.pieces.json'))).pieces;
  const model = okOf(await parseBandModel(read('ticking.bands.json')));
  const placement = placementOf(okOf(placePieces(plan, pieces, model)), plan.wishes, NO_FILE, []);

  test('fits its length of cloth, in phase, margins kept', async () => {
    const lay = okOf(await layPieces(plan, pieces, model, placement));
    expect(lay.fits).toBe(true);
    expect(faultsOfLay(lay, plan, pieces, model, placement)).toEqual([]);
  });
});
