import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  DEFAULT_LAY,
  type LayAnswer,
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

  test('takes no more than a tenth more cloth than a search ten times as long', async () => {
    const used = async (rounds: number): Promise<number> =>
      okOf(await layPieces(plan, pieces, model, placement, { rounds, seed: 2 })).lengths[0].used_mm;
    expect(await used(DEFAULT_LAY.rounds / 2)).toBeLessThan(1.1 * (await used(5 * DEFAULT_LAY.rounds)));
  });

  test('the checker sees what is no lay', async () => {
    const lay = okOf(await layPieces(plan, pieces, model, placement, { rounds: 0, seed: 1 }));
    const [length] = lay.lengths;
    const faults = (change: (transform: number[]) => void, k = 0): string[] => {
      const copies = length.copies.map((one) => ({ ...one, transform: [...one.transform] }));
      change(copies[k].transform);
      const changed = { ...lay, lengths: [{ ...length, copies }] } as unknown as LayAnswer;
      return faultsOfLay(changed, plan, pieces, model, placement);
    };
    expect(faults(() => {})).toEqual([]);
    const says = (words: string): unknown => expect.arrayContaining([expect.stringContaining(words)]);
    expect(
      faults((t) => {
        t[4] += 1;
      }),
    ).toEqual(says('no whole repeats'));
    expect(
      faults((t) => {
        t[5] += 1e4;
      }),
    ).toEqual(says('outside'));
    expect(
      faults((t) => {
        t[0] = -t[0];
        t[2] = -t[2];
      }),
    ).toEqual(says('turned by other'));
    const [, other] = length.copies;
    const onto = faults((t) => {
      t.splice(0, 6, ...other.transform);
    });
    expect(onto).toEqual(says('mm from'));
    const short = { ...lay, lengths: [{ ...length, copies: length.copies.slice(1) }] };
    expect(faultsOfLay(short, plan, pieces, model, placement)).toEqual(says('not every copy once'));
  });
});
