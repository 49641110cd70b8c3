import { describe, expect, it } from 'vitest';
import { formatPieces } from '../../../../src/core/pieces/piece/format-pieces.js';
import { parsePieces } from '../../../../src/core/pieces/piece/parse-pieces.js';
import { fileOf, gore } from '../../../support/pieces/small-pieces.js';

const parsedPiece = (piece: object) => {
  const outcome = parsePieces(JSON.stringify({ ...fileOf(), pieces: [piece] }));
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value.pieces[0];
};

const faultOf = (...pieces: object[]): string => {
  const outcome = parsePieces(JSON.stringify({ ...fileOf(), pieces }));
  return outcome.ok ? 'no fault' : outcome.refusal.found;
};

const square = {
  id: 'sash',
  stitching: [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ],
  grain: [
    [50, 10],
    [50, 90],
  ],
};

describe('parsePieces', () => {
  it('gives back what formatPieces wrote, unknown fields with it', () => {
    const file = { ...fileOf(gore({ notches: ['hem'] })), photo: { file: 'gore.jpg' } };
    const outcome = parsePieces(formatPieces(file));
    expect(outcome).toEqual({ ok: true, value: file });
  });

  it('fills in what may be left out', () => {
    expect(parsedPiece(square)).toEqual({
      ...square,
      name: 'sash',
      cutting: null,
      allowance_mm: null,
      stripes: { to: 'grain', angle_deg: 0 },
      points: {},
      seams: [],
      fold: null,
      copies: [{ id: 'sash', mirrored: false }],
    });
    expect(parsedPiece({ ...square, copies: [{ id: 'a' }] }).copies).toEqual([{ id: 'a', mirrored: false }]);
  });

  // 1 inch = 25.4 mm exactly (international yard and pound agreement of 1959).
  it('reads lengths with their unit in every field', () => {
    const piece = parsedPiece({
      ...square,
      stitching: [
        ['0mm', 0],
        ['4 1/2 in', '0in'],
        ['11.43cm', '12in'],
        [0, '0.3048m'],
      ],
      allowance_mm: '5/8in',
      points: { low: ['-3mm', '-1 1/2"'] },
      grain: [
        ['1cm', '1cm'],
        ['1cm', '11in'],
      ],
    });
    expect(piece.stitching).toEqual([
      [0, 0],
      [114.3, 0],
      [114.3, 304.8],
      [0, 304.8],
    ]);
    expect(piece.allowance_mm).toBe(15.875);
    expect(piece.points.low).toEqual([-3, -38.1]);
    expect(piece.grain[1]).toEqual([10, 279.4]);
  });

  it('drops a first point repeated at the end', () => {
    expect(parsedPiece({ ...square, stitching: [...square.stitching, [0, 0]] }).stitching).toHaveLength(4);
  });

  it.each([
    ['no unit on a text', { ...square, allowance_mm: '15' }, /allowance_mm is "15", expected a number/],
    [
      'a coordinate that is no number',
      {
        ...square,
        grain: [
          ['x', 0],
          [0, 1],
        ],
      },
      /grain\[0\]\[0\] is "x"/,
    ],
    [
      'two points',
      {
        ...square,
        stitching: [
          [0, 0],
          [9, 9],
        ],
      },
      /stitching is a list of 2, expected .* 3 or more/,
    ],
    [
      'a repeated triangle point',
      {
        ...square,
        stitching: [
          [0, 0],
          [9, 9],
          [0, 0],
        ],
      },
      /only 2 different points/,
    ],
    [
      'no area',
      {
        ...square,
        stitching: [
          [0, 0],
          [50, 50],
          [100, 100],
        ],
      },
      /"sash": its stitching line encloses no area/,
    ],
    [
      'a crossing',
      {
        ...square,
        stitching: [
          [0, 0],
          [100, 100],
          [100, 0],
          [0, 80],
        ],
      },
      /crosses or touches itself at \(44\.4, 44\.4\) mm/,
    ],
    [
      'a spike',
      {
        ...square,
        stitching: [
          [0, 0],
          [100, 0],
          [150, 0],
          [100, 0],
          [100, 100],
          [0, 100],
        ],
      },
      /touches itself at \(1[05]0, 0\)/,
    ],
    [
      'over 10 m',
      {
        ...square,
        stitching: [
          [0, 0],
          [10_001, 0],
          [100, 100],
        ],
      },
      /is 10 m long|unit right/,
    ],
    [
      'a cutting line that crosses',
      {
        ...square,
        cutting: [
          [0, 0],
          [100, 100],
          [100, 0],
          [0, 80],
        ],
      },
      /cutting line crosses/,
    ],
    [
      'a grain of no length',
      {
        ...square,
        grain: [
          [1, 1],
          [1, 1],
        ],
      },
      /grain line has no length/,
    ],
    [
      'a seam called grain',
      { ...square, points: { a: [0, 0] }, seams: [{ id: 'grain', from: 'a', to: 'a' }] },
      /"grain"/,
    ],
    [
      'a seam without its point',
      { ...square, seams: [{ id: 'side', from: 'a', to: 'a' }] },
      /the point "a", which the piece has not/,
    ],
    [
      'a seam off the line',
      { ...square, points: { a: [0, 0], b: [50, 0.06] }, seams: [{ id: 'side', from: 'a', to: 'b' }] },
      /point "b" of its seam "side" lies 0\.06 mm off/,
    ],
    [
      'two seams of one name',
      {
        ...square,
        points: { a: [0, 0] },
        seams: [
          { id: 's', from: 'a', to: 'a' },
          { id: 's', from: 'a', to: 'a' },
        ],
      },
      /two seams/,
    ],
    ['stripes to no seam', { ...square, stripes: { to: 'side' } }, /seam "side", which the piece has not/],
    [
      'stripes to a ring',
      { ...square, points: { a: [0, 0] }, seams: [{ id: 's', from: 'a', to: 'a' }], stripes: { to: 's' } },
      /ends where it starts/,
    ],
    ['a fold that is no seam', { ...square, fold: 'centre' }, /seam "centre", which the piece has not/],
    [
      'two copies of one name',
      { ...square, copies: [{ id: 'a' }, { id: 'a' }] },
      /two copies have the id "a"/,
    ],
  ])('refuses %s, naming the piece and the place', (_, piece, words) => {
    expect(faultOf(piece)).toMatch(words);
    expect(faultOf(piece)).toMatch(/"sash"|pieces\[0\]|copies/);
  });

  it('takes a seam end within 0.05 mm of the line', () => {
    const near = {
      ...square,
      points: { a: [0, 0], b: [50, 0.04] },
      seams: [{ id: 'side', from: 'a', to: 'b' }],
    };
    expect(faultOf(near)).toBe('no fault');
  });

  it('wants every copy of every piece to have an id of its own', () => {
    expect(faultOf(square, { ...square, id: 'sash 2', copies: [{ id: 'sash' }] })).toMatch(
      /copies have the id "sash"/,
    );
    expect(faultOf(square, square)).toMatch(/two pieces/);
  });

  const half = {
    ...square,
    points: { a: [0, 100], b: [0, 0] },
    seams: [{ id: 'centre', from: 'a', to: 'b' }],
    fold: 'centre',
  };
  it('wants a fold that is straight within 0.05 mm, the half on one side of it', () => {
    expect(faultOf(half)).toBe('no fault');
    const bent = (by: number) => ({ ...half, stitching: [...square.stitching, [by, 50]] });
    expect(faultOf(bent(0.04))).toBe('no fault');
    expect(faultOf(bent(0.06))).toMatch(/fold "centre" is not straight: 0\.06 mm off at \(0\.1, 50\)/);
    expect(
      faultOf({
        ...half,
        stitching: [
          [0, 0],
          [100, 0],
          [100, 120],
          [-10, 120],
          [-10, 100],
          [0, 100],
        ],
      }),
    ).toMatch(/both sides of its fold/);
  });

  it('wants the stitching line within the cutting line, to 0.05 mm', () => {
    const cut = (by: number) => ({
      ...square,
      cutting: [
        [by, -10],
        [110, -10],
        [110, 110],
        [by, 110],
      ],
    });
    expect(faultOf(cut(0))).toBe('no fault');
    expect(faultOf(cut(0.04))).toBe('no fault');
    expect(faultOf(cut(0.06))).toMatch(
      /"sash": its stitching line lies outside its cutting line at \(0, 0\) mm/,
    );
  });

  it('says of a newer file that a newer release reads it', () => {
    const outcome = parsePieces(JSON.stringify({ ...fileOf(gore()), version: 2 }));
    expect(!outcome.ok && outcome.refusal.remedy).toMatch(/newer release/);
    expect(faultOf()).toMatch(/pieces is a list of 0/);
    expect(parsePieces('{"a":').ok).toBe(false);
  });
});
