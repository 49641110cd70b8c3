import { describe, expect, it } from 'vitest';
import { readMotifs } from '../../../src/core/stripes/motif-reading.js';
import {
  arrow,
  type Drawing,
  disc,
  latticePrint,
  MADDER,
  type Print,
  printedSheet,
  zed,
} from '../../support/printed-sheet.js';

/** A flag on its pole: no symmetry but the identity. */
const flag: Drawing = (x, y) =>
  (x > -6 && x < -3 && Math.abs(y) < 7) || (x > -4 && x < 6 && y > 0 && y < 6) ? MADDER : null;
const flipX =
  (d: Drawing): Drawing =>
  (x, y) =>
    d(-x, y);
const flipY =
  (d: Drawing): Drawing =>
  (x, y) =>
    d(x, -y);
const turned =
  (d: Drawing): Drawing =>
  (x, y) =>
    d(y, -x);

const AT = { drop: 0, atUMm: 10.5, atVMm: 4.2 };

/** [half turn, v reversed, u reversed] */
function answers(print: Print): (boolean | null)[] {
  const { symmetry } = readMotifs(printedSheet({ print, pxPerMm: 2.4 }));
  return [symmetry?.halfTurn, symmetry?.mirrorAlong, symmetry?.mirrorAcross].map((one) => one?.same ?? null);
}

/**
 * The seven frieze groups by their standard generators (T translation, V mirror across the strip, H along it, G glide, R
 * half-turn), the strip along the stripes. V reverses v; H and G reverse u.
 */
describe('the seven frieze groups', () => {
  const two = (drawing: Drawing, other: Drawing): Print =>
    latticePrint({ ...AT, alongMm: 20 }, (_, along) => (along % 2 === 0 ? drawing : other));
  const one = (drawing: Drawing): Print => latticePrint({ ...AT, alongMm: 30 }, () => drawing);
  it.each([
    ['p1: T', one(flag), [false, false, false]],
    ['p2: T R', one(zed(6)), [true, false, false]],
    ['p1m1: T V', one(turned(arrow(6))), [false, true, false]],
    ['p11m: T H G', one(arrow(6)), [false, false, true]],
    ['p11g: T G', two(flag, flipX(flag)), [false, false, true]],
    ['p2mg: T R V G', two(turned(arrow(6)), flipX(turned(arrow(6)))), [true, true, true]],
    ['p2mm: T R H V G', one(disc(6)), [true, true, true]],
  ])('%s', (_, print, expected) => expect(answers(print)).toEqual(expected));
});

describe('a print of two drawings', () => {
  it('points one way when the smaller of them does', () => {
    const print: Print = (u, v) =>
      latticePrint({ ...AT, alongMm: 32 }, () => disc(8))(u, v) ??
      latticePrint({ ...AT, alongMm: 32, atVMm: AT.atVMm + 16 }, () => arrow(5))(u, v);
    expect(answers(print)).toEqual([false, false, true]);
  });
});

/** Plane groups with a rectangular or rhombic cell, by painting their generators. */
describe('plane groups', () => {
  const cell = (drop: number, drawing: (across: number, along: number) => Drawing): Print =>
    latticePrint({ ...AT, alongMm: 32, drop }, drawing);
  const even = (n: number): boolean => n % 2 === 0;
  it.each([
    ['p1, oblique', cell(0.3, () => flag), [false, false, false]],
    ['p2, oblique', cell(0.3, () => zed(6)), [true, false, false]],
    ['pm, mirrors along the stripes', cell(0, () => arrow(6)), [false, false, true]],
    ['pm, mirrors across them', cell(0, () => turned(arrow(6))), [false, true, false]],
    ['cm, half-drop', cell(0.5, () => arrow(6)), [false, false, true]],
    ['pmm', cell(0, () => disc(6)), [true, true, true]],
    ['cmm, half-drop', cell(0.5, () => disc(6)), [true, true, true]],
    // A drop of a quarter leaves a round motif its half-turn alone: mirrors would step the columns the other way.
    ['p2 by its lattice', cell(0.25, () => disc(6)), [true, false, false]],
    [
      'pg, glides along the stripes',
      latticePrint({ ...AT, alongMm: 18 }, (_, along) => (even(along) ? flag : flipX(flag))),
      [false, false, true],
    ],
    [
      'pgg',
      latticePrint({ ...AT, alongMm: 18 }, (_, along) => (even(along) ? zed(5) : flipY(zed(5)))),
      [true, true, true],
    ],
  ])('%s', (_, print, expected) => expect(answers(print)).toEqual(expected));
});

describe('scores', () => {
  it('are the same when the cloth is turned round', () => {
    const print = latticePrint({ ...AT, alongMm: 30 }, () => flag);
    const first = readMotifs(printedSheet({ print, pxPerMm: 2.4 })).symmetry;
    const again = readMotifs(
      printedSheet({ print: (u, v) => print(2 * AT.atUMm - u, -v), pxPerMm: 2.4 }),
    ).symmetry;
    for (const key of ['halfTurn', 'mirrorAlong', 'mirrorAcross'] as const)
      expect(Math.abs((first?.[key].score ?? 0) - (again?.[key].score ?? 1))).toBeLessThan(0.05);
  });

  it('tell the end a motif is heavier at', () => {
    const up = readMotifs(printedSheet({ print: latticePrint({ ...AT, alongMm: 30 }, () => arrow(6)) }));
    const down = readMotifs(
      printedSheet({ print: latticePrint({ ...AT, alongMm: 30 }, () => flipY(arrow(6))) }),
    );
    // A triangle's base is its heavy end.
    expect([up.heavyEnd, down.heavyEnd]).toEqual(['down', 'up']);
  });
});
