import { describe, expect, it } from 'vitest';
import { UsageError } from '../../../../src/core/base/outcome.js';
import { type DxfOptions, readPiecesDxf } from '../../../../src/core/pieces/dxf/read-pieces-dxf.js';
import { writePiecesDxf } from '../../../../src/core/pieces/dxf/write-pieces-dxf.js';
import { areaMm2, perimeterMm } from '../../../../src/core/pieces/geometry/outline.js';
import { seamLengthMm, wholeStitching } from '../../../../src/core/pieces/geometry/whole-piece.js';
import type { PiecesFile } from '../../../../src/core/pieces/piece/pieces-file.js';
import {
  block,
  dxfFile,
  dxfText,
  insert,
  line,
  oldPolyline,
  point,
  polyline,
  words,
} from '../../../support/pieces/dxf-text.js';
import { expectSamePieces } from '../../../support/pieces/same-pieces.js';
import { fileOf, gore } from '../../../support/pieces/small-pieces.js';

const read = (text: string, options?: DxfOptions): PiecesFile => {
  const outcome = readPiecesDxf(text, options);
  if (!outcome.ok) throw new Error(outcome.refusal.found);
  return outcome.value;
};
const refusal = (text: string, options?: DxfOptions) => {
  const outcome = readPiecesDxf(text, options);
  return outcome.ok ? null : outcome.refusal;
};
const codes = (file: PiecesFile) => file.warnings?.map((one) => one.code) ?? [];

const SQUARE = [
  [0, 0],
  [100, 0],
  [100, 200],
  [0, 200],
] as const;
const GRAIN = line('7', [50, 20], [50, 180]);
const front = block(
  'FRONT',
  polyline('1', SQUARE),
  GRAIN,
  SQUARE.flatMap((at) => point('2', at)),
);

describe('pieces written as DXF and read again', () => {
  it('are the same to 0.01 mm', () => {
    const file = fileOf(
      gore({ notches: ['hem'], points: { ...gore().points, mark: [33.3333, 77.7777] } }),
      gore({
        id: 'half',
        fold: 'centre',
        stripes: { to: 'side', angle_deg: -12.5 },
        copies: [
          { id: 'a, b', mirrored: false },
          { id: 'left mirrored', mirrored: true },
        ],
      }),
      gore({
        id: 'ärmel "1" 袖',
        name: 'Ärmel',
        allowance_mm: null,
        copies: [{ id: 'x', mirrored: true }],
        cutting: [
          [-10, -10],
          [140.123, -10],
          [90, 215],
          [-10, 215],
        ],
        stitching: [...gore().stitching].reverse(),
        seams: [
          { id: 'side', from: 'top', to: 'hem' },
          { id: 'most', from: 'neck', to: 'top' },
          { id: 'all', from: 'neck', to: 'neck' },
        ],
      }),
      gore({
        id: 'bare',
        allowance_mm: null,
        points: {},
        seams: [],
        copies: [{ id: 'bare', mirrored: false }],
      }),
    );
    const back = read(writePiecesDxf(file));
    expectSamePieces(back, file);
    expect(back.warnings).toBeUndefined();
    expect(writePiecesDxf(file)).toBe(writePiecesDxf(file));
  });
});

describe('units', () => {
  // Autodesk, DXF reference, $INSUNITS: 1 inch, 2 foot, 4 mm, 5 cm, 6 m, 10 yard, 14 decimetre.
  it.each([
    [1, 25.4],
    [2, 304.8],
    [4, 1],
    [5, 10],
    [10, 914.4],
    [14, 100],
  ])('reads $INSUNITS %i as %f mm', (code, mm) => {
    const small = block(
      'A',
      polyline(
        '1',
        SQUARE.map(([x, y]) => [x / 100, y / 100] as const),
      ),
      line('7', [0, 0], [0, 1]),
    );
    expect(areaMm2(read(dxfFile(code, [small], [])).pieces[0].stitching)).toBeCloseTo(2 * mm * mm, 6);
  });

  it('refuses a file that does not say, and takes what it is told', () => {
    expect(refusal(dxfFile(null, [front], []))).toMatchObject({ reason: 'no-scale', settings: ['fileUnit'] });
    expect(refusal(dxfFile(0, [front], []))?.found).toMatch(/0 \(unitless\)/);
    expect(refusal(dxfFile(21, [front], []))?.found).toMatch(/21, which is no unit/);
    expect(areaMm2(read(dxfFile(null, [front], []), { fileUnit: 'cm' }).pieces[0].stitching)).toBeCloseTo(
      2e6,
      3,
    );
    expect(codes(read(dxfFile(4, [front], []), { fileUnit: 'inch' }))).toContain('unit-overruled');
  });

  it('goes by the text of the style where there is no variable, and refuses two that differ', () => {
    const english = words('1', 'UNITS: ENGLISH');
    expect(
      areaMm2(
        read(
          dxfFile(
            null,
            [
              block(
                'A',
                polyline('1', [
                  [0, 0],
                  [1, 0],
                  [1, 1],
                  [0, 1],
                ]),
                GRAIN,
              ),
            ],
            [english],
          ),
        ).pieces[0].stitching,
      ),
    ).toBeCloseTo(645.16, 6);
    expect(refusal(dxfFile(4, [front], [english]))?.reason).toBe('no-scale');
    expect(
      areaMm2(read(dxfFile(null, [front], [words('1', 'Units: Metric')])).pieces[0].stitching),
    ).toBeCloseTo(2e4, 6);
  });
});

describe('lines', () => {
  const outlineOf = (...entities: Parameters<typeof block>[1][]) =>
    read(dxfFile(4, [block('A', ...entities, GRAIN)], [])).pieces[0].stitching;
  const near = (outline: ReturnType<typeof outlineOf>, area: number): void => {
    expect(Math.abs(areaMm2(outline) - area)).toBeLessThan(0.01 * perimeterMm(outline));
  };

  // Area of a segment of a circle: r^2 (a - sin a) / 2, with a = 4 atan(bulge) and chord c = 2 r sin(a / 2).
  it.each([0.2, 1, -0.3, 0.05])('follows a bulge of %f', (bulge) => {
    const angle = 4 * Math.atan(Math.abs(bulge));
    const radius = 100 / (2 * Math.sin(angle / 2));
    const segment = (radius * radius * (angle - Math.sin(angle))) / 2;
    const places = [
      [0, 0, bulge],
      [100, 0],
      [100, 200],
      [0, 200],
    ] as const;
    near(outlineOf(polyline('1', places)), 2e4 + Math.sign(bulge) * segment);
    near(outlineOf(oldPolyline('1', places)), 2e4 + Math.sign(bulge) * segment);
  });

  it('joins lines and arcs into one outline', () => {
    const arc: Parameters<typeof block>[1] = [
      [0, 'ARC'],
      [8, '1'],
      [10, 50],
      [20, 200],
      [40, 50],
      [50, 0],
      [51, 180],
    ];
    near(
      outlineOf(
        line('1', [0, 0], [100, 0]),
        arc,
        line('1', [0, 200], [0, 0]),
        line('1', [100, 200], [100, 0]),
      ),
      2e4 + (Math.PI * 2500) / 2,
    );
  });

  it('reads circles, ellipses and what is drawn as seen from behind', () => {
    near(
      outlineOf([
        [0, 'CIRCLE'],
        [8, '1'],
        [10, 5],
        [20, 5],
        [40, 80],
      ]),
      Math.PI * 6400,
    );
    near(
      outlineOf([
        [0, 'ELLIPSE'],
        [8, '1'],
        [10, 5],
        [20, 5],
        [11, 60],
        [21, 60],
        [40, 0.5],
        [41, 0],
        [42, 2 * Math.PI],
      ]),
      (Math.PI * 7200) / 2,
    );
    const behind = outlineOf([
      ...polyline('1', [
        [0, 0],
        [100, 0],
        [100, 200],
      ]),
      [230, -1],
    ]);
    expect(behind).toEqual([
      [0, 0],
      [-100, 0],
      [-100, 200],
    ]);
  });

  // A point with a code of its own (91, an id) ends the points for the library's own reader.
  it('reads every point of a polyline whatever else stands between', () => {
    const places = SQUARE.flatMap(([x, y]): [number, number][] => [
      [10, x],
      [20, y],
      [91, 7],
    ]);
    expect(outlineOf([[0, 'LWPOLYLINE'], [8, '1'], [90, 2], [70, 1], ...places])).toEqual(SQUARE);
  });

  // Cox and de Boor's recursion, written out here, on a cubic with knots of uneven steps.
  it('keeps within 0.01 mm of a spline', () => {
    const control = [
      [0, 0],
      [0, 150],
      [180, 160],
      [220, 40],
      [150, -60],
      [40, -80],
      [0, 0],
    ] as const;
    const knots = [0, 0, 0, 0, 1, 2.5, 3, 4, 4, 4, 4];
    const basis = (i: number, d: number, u: number): number => {
      if (d === 0) return knots[i] <= u && u < knots[i + 1] ? 1 : 0;
      const left =
        knots[i + d] > knots[i] ? ((u - knots[i]) / (knots[i + d] - knots[i])) * basis(i, d - 1, u) : 0;
      const right =
        knots[i + d + 1] > knots[i + 1]
          ? ((knots[i + d + 1] - u) / (knots[i + d + 1] - knots[i + 1])) * basis(i + 1, d - 1, u)
          : 0;
      return left + right;
    };
    const outline = outlineOf([
      [0, 'SPLINE'],
      [8, '1'],
      [70, 1],
      [71, 3],
      ...knots.map((k): [number, number] => [40, k]),
      ...control.flatMap(([x, y]): [number, number][] => [
        [10, x],
        [20, y],
      ]),
    ]);
    for (let u = 0; u < 4; u += 0.01) {
      const b = control.map((_, i) => basis(i, 3, u));
      const p = [0, 1].map((k) => b.reduce((sum, w, i) => sum + w * control[i][k], 0));
      const away = Math.min(
        ...outline.map((a, i) => {
          const q = outline[(i + 1) % outline.length];
          const t = Math.min(
            1,
            Math.max(
              0,
              ((p[0] - a[0]) * (q[0] - a[0]) + (p[1] - a[1]) * (q[1] - a[1])) /
                ((q[0] - a[0]) ** 2 + (q[1] - a[1]) ** 2),
            ),
          );
          return Math.hypot(a[0] + t * (q[0] - a[0]) - p[0], a[1] + t * (q[1] - a[1]) - p[1]);
        }),
      );
      expect(away).toBeLessThan(0.0101);
    }
    expect(outline.length).toBeLessThan(400);
  });
});

describe('pieces of a file', () => {
  it('says that it took the boundary for the stitching line, unless it is told', () => {
    const file = read(dxfFile(4, [front], []));
    expect(file.warnings).toMatchObject([{ code: 'boundary-taken', settings: ['boundary'] }]);
    expect(file.pieces[0]).toMatchObject({
      id: 'FRONT',
      cutting: null,
      grain: [
        [50, 20],
        [50, 180],
      ],
    });
    expect(read(dxfFile(4, [front], []), { boundary: 'stitching' }).warnings).toBeUndefined();
    const cut = read(dxfFile(4, [front], []), { boundary: 'cutting', allowanceMm: 10 }).pieces[0];
    expect(areaMm2(cut.stitching)).toBeCloseTo(80 * 180, 3);
    expect(areaMm2(cut.cutting ?? [])).toBeCloseTo(2e4, 6);
    expect(codes(read(dxfFile(4, [front], []), { boundary: 'cutting' }))).toContain('no-stitching-line');
  });

  it('stitches along closed sew lines, and cuts along the boundary then', () => {
    const inner = SQUARE.map(([x, y]) => [x === 0 ? 12 : 88, y === 0 ? 12 : 188] as const);
    const piece = read(dxfFile(4, [block('A', polyline('1', SQUARE), polyline('14', inner), GRAIN)], []))
      .pieces[0];
    expect([areaMm2(piece.stitching), areaMm2(piece.cutting ?? [])]).toEqual([76 * 176, 2e4]);
  });

  it('names turn points in order along the line, seams between them, notches and holes', () => {
    const piece = read(
      dxfFile(
        4,
        [
          block(
            'A',
            polyline('1', SQUARE),
            GRAIN,
            point('2', [100, 200]),
            point('2', [0, 0]),
            point('2', [100, 0]),
            point('4', [100, 90]),
            point('81', [40, 0]),
            point('13', [50, 50]),
          ),
        ],
        [],
      ),
      { boundary: 'stitching' },
    ).pieces[0];
    expect(piece.points).toEqual({
      n1: [40, 0],
      n2: [100, 90],
      c1: [0, 0],
      c2: [100, 0],
      c3: [100, 200],
      d1: [50, 50],
    });
    expect(piece.notches).toEqual(['n1', 'n2']);
    expect(piece.seams.map((seam) => seamLengthMm(piece, seam.id))).toEqual([100, 200, 300]);
  });

  it('unfolds about a mirror line that is an edge, and not about one within', () => {
    const half = (x: number) =>
      read(dxfFile(4, [block('A', polyline('1', SQUARE), GRAIN, line('6', [x, -20], [x, 220]))], []), {
        boundary: 'stitching',
      });
    const piece = half(100).pieces[0];
    expect(piece.fold).toBe('fold');
    expect(piece.seams).toContainEqual({ id: 'fold', from: 'fold start', to: 'fold end' });
    expect(areaMm2(wholeStitching(piece))).toBeCloseTo(4e4, 6);
    expect(areaMm2(wholeStitching(half(0).pieces[0]))).toBeCloseTo(4e4, 6);
    expect(half(60).pieces[0].fold).toBeNull();
    expect(codes(half(60))).toEqual(['left-out']);
  });

  it('counts copies by how often a block is laid out, mirrored or turned', () => {
    const copies = (...inserts: Parameters<typeof block>[1][]) =>
      read(dxfFile(4, [front], inserts)).pieces[0].copies;
    expect(copies()).toEqual([{ id: 'FRONT', mirrored: false }]);
    expect(copies(insert('FRONT', [5, 5]), insert('FRONT', [300, 0], -1, 30))).toEqual([
      { id: 'FRONT 1', mirrored: false },
      { id: 'FRONT 2', mirrored: true },
    ]);
    expect(copies(insert('FRONT', [0, 0], -1, 180, -1))).toEqual([{ id: 'FRONT', mirrored: false }]);
    expect(copies([...insert('FRONT', [0, 0]), [210, 0], [220, 0], [230, -1]])).toEqual([
      { id: 'FRONT', mirrored: true },
    ]);
    const many = block('S', polyline('1', SQUARE), GRAIN, words('1', 'Quantity: 2,1'));
    expect(
      read(dxfFile(4, [many], [insert('S', [0, 0])])).pieces[0].copies.map((copy) => copy.mirrored),
    ).toEqual([false, false, true]);
  });

  it('enlarges a block as it is laid out, the same way every time', () => {
    expect(
      areaMm2(read(dxfFile(4, [front], [insert('FRONT', [0, 0], 2, 0, 2)])).pieces[0].stitching),
    ).toBeCloseTo(8e4, 6);
    expect(refusal(dxfFile(4, [front], [insert('FRONT', [0, 0], 2)]))?.found).toMatch(
      /"FRONT" is laid out stretched/,
    );
    expect(
      refusal(dxfFile(4, [front], [insert('FRONT', [0, 0]), insert('FRONT', [0, 0], 2, 0, 2)]))?.found,
    ).toMatch(/two scales/);
  });

  it('keeps one of several sizes and names the others', () => {
    const sized = (size: string, wide: number) =>
      block(
        `FRONT_${size}`,
        polyline('1', [
          [0, 0],
          [wide, 0],
          [wide, 100],
          [0, 100],
        ]),
        GRAIN,
        words('1', 'Piece Name: FRONT'),
        words('1', `Size: ${size}`),
      );
    const text = dxfFile(4, [sized('36', 100), sized('38', 110), sized('40', 120)], []);
    const width = (options?: DxfOptions, file = text) =>
      Math.max(...read(file, options).pieces.flatMap((piece) => piece.stitching.map(([x]) => x)));
    expect(read(text).pieces.map((piece) => piece.id)).toEqual(['FRONT']);
    expect(read(text).warnings).toContainEqual({
      code: 'several-sizes',
      message: 'the file holds the sizes 36, 38, 40: 36 is taken',
      settings: ['size'],
    });
    expect(width()).toBe(100);
    expect(width({ size: '40' })).toBe(120);
    expect(
      width(undefined, dxfFile(4, [sized('36', 100), sized('38', 110)], [words('1', 'Sample Size: 38')])),
    ).toBe(110);
    expect(() => readPiecesDxf(text, { size: '44' })).toThrow(UsageError);
    expect(() => readPiecesDxf(text, { size: '44' })).toThrow(/36, 38, 40, received "44"/);
  });

  it('takes closed lines of layer 1 for pieces where there are no blocks', () => {
    const aside = SQUARE.map(([x, y]) => [x + 300, y] as const);
    const file = read(
      dxfFile(
        4,
        [],
        [
          polyline('1', SQUARE),
          polyline('1', aside),
          GRAIN,
          line('7', [350, 150], [350, 10]),
          point('4', [400, 50]),
        ],
      ),
    );
    expect(file.pieces.map((piece) => piece.grain[1])).toEqual([
      [50, 180],
      [350, 10],
    ]);
    expect(file.pieces.map((piece) => piece.notches)).toEqual([undefined, ['n1']]);
  });

  it('finds what is drawn on layer 0 of a block within a block on the layer it is laid on', () => {
    const shape = block('SHAPE', polyline('0', SQUARE));
    const outer = block('OUTER', insert('SHAPE', [10, 20]), GRAIN);
    expect(read(dxfFile(4, [shape, outer], [])).pieces[0].stitching[0]).toEqual([10, 20]);
  });

  it.each([
    [
      'an open boundary',
      dxfFile(4, [block('A', polyline('1', SQUARE, false), GRAIN)], []),
      /piece "A": its stitching line is open: .* ends 200 mm away at \(0, 200\)/,
    ],
    [
      'a coordinate that is no number',
      dxfFile(4, [front], []).replace('\n200\n', '\nabc\n'),
      /line \d+ is "abc", expected a number/,
    ],
    [
      'a crossing',
      dxfFile(
        4,
        [
          block(
            'A',
            polyline('1', [
              [0, 0],
              [100, 100],
              [100, 0],
              [0, 80],
            ]),
            GRAIN,
          ),
        ],
        [],
      ),
      /piece "A": .*crosses .* at \(44\.4, 44\.4\)/,
    ],
    ['a wrong unit', dxfFile(6, [front], []), /is 200 m long, expected 10 m at most: is the unit right/],
    ['a file cut short', dxfFile(4, [front], []).slice(0, -15), /EOF|cut short/],
    ['no pieces', dxfFile(4, [], [line('8', [0, 0], [1, 1])]), /no piece/],
    ['no DXF', 'hello\nthere', /line 1 is "hello", expected a group code/],
    ['an empty file', '', /cut short/],
    ['a binary file', 'AutoCAD Binary DXF\r\n\x1a', /binary/],
    [
      'blocks within themselves',
      dxfFile(4, [block('A', polyline('1', SQUARE), insert('A', [1, 1]))], []),
      /without end/,
    ],
    [
      'a spline with weights',
      dxfFile(
        4,
        [
          block(
            'A',
            [
              [0, 'SPLINE'],
              [8, '1'],
              [70, 4],
              [71, 2],
              [10, 0],
              [20, 0],
            ],
            polyline('1', SQUARE),
          ),
        ],
        [],
      ),
      /spline/,
    ],
  ])('refuses %s', (_, text, found) => {
    expect(refusal(text)?.found).toMatch(found);
  });

  it('goes by notes it knows, tells of those it half knows and passes over lines that shape nothing', () => {
    const noted = block(
      'N',
      polyline('1', SQUARE),
      GRAIN,
      words('15', 'copies: 1, 1 mirrored'),
      words('15', 'stripes: match at centre'),
      words('15', 'press well'),
      [
        [0, 'SPLINE'],
        [8, '8'],
        [70, 4],
        [71, 2],
        [10, 0],
        [20, 0],
      ],
    );
    const file = read(dxfFile(4, [noted], []), { boundary: 'stitching' });
    expect(file.pieces[0].copies).toEqual([
      { id: 'N 1', mirrored: false },
      { id: 'N 2', mirrored: true },
    ]);
    expect(file.warnings).toMatchObject([
      { code: 'left-out', message: expect.stringMatching(/"stripes: match at centre" is not understood/) },
    ]);
  });

  it('says what it left out', () => {
    const file = read(
      dxfFile(
        4,
        [front],
        [
          [
            [0, 'HATCH'],
            [8, '1'],
          ],
        ],
      ),
      { boundary: 'stitching' },
    );
    expect(file.warnings).toEqual([{ code: 'left-out', message: '1 of HATCH are not read' }]);
  });
});

it('reads lines that end as Windows ends them', () => {
  expect(read(dxfFile(4, [front], []).replaceAll('\n', '\r\n')).pieces).toHaveLength(1);
  expect(dxfText([0, 'EOF'])).toBe('0\nEOF\n');
});
