import type { Point } from '../../src/core/math/matrix3.js';
import { flattenedBezier } from '../../src/core/pieces/drawn/curves.js';
import { nearestPlace, partOfOutline, pointAlong } from '../../src/core/pieces/geometry/along-outline.js';
import { lineLengthMm } from '../../src/core/pieces/geometry/outline.js';
import type { Piece } from '../../src/core/pieces/piece/pieces-file.js';
import { draftedPiece, type Part } from './drafted-piece.js';

/**
 * A chorus tunic for no person in particular, drafted from round measurements (mm): half front and half back on slanted centre seams, their
 * stripes meeting at unequal angles; set-in sleeve, side gore, collar on the fold, sash. Every piece is drawn as it is seen from outside: of the front
 * that is the wearer's left half, of back, sleeve and gore the right one.
 */
const MEASURE = {
  halfWidthAtUnderarm: 250,
  halfWidthAtHem: 280,
  underarmAboveHem: 500,
  shoulderTip: [205, 735],
  neckSide: [80, 770],
  frontNeck: 690,
  backNeck: 745,
  /** How far the centre seam's foot lies outside its top. */
  frontSlant: 70,
  backSlant: 50,
  gore: 380,
  goreWidth: 200,
  sleeveLength: 420,
  sleeveWidth: 370,
  wrist: 240,
  /** Sleeve cap over armhole: eased in. */
  ease: 12,
  dart: 72,
  collar: 60,
  sash: [1800, 90],
} as const;

/** Chords this close to the curve: a pencil line is ten times as wide. */
const CHORD_MM = 0.05;
const curve = (...control: Point[]): Point[] => [control[0], ...flattenedBezier(control, CHORD_MM)];

const [tip, neckSide] = [MEASURE.shoulderTip, MEASURE.neckSide] as readonly [Point, Point];
const underarm: Point = [MEASURE.halfWidthAtUnderarm, MEASURE.underarmAboveHem];
const hemSide: Point = [MEASURE.halfWidthAtHem, 0];
/** Where the gore begins, up the side seam. */
const goreTop = pointAlong([hemSide, underarm], MEASURE.gore / lineLengthMm([hemSide, underarm]));

const frontArmhole = curve(underarm, [185, 500], [165, 590], tip);
const backArmhole = curve(underarm, [200, 505], [180, 600], tip);
const sides = (armhole: Point[]): Part[] => [
  { seam: 'gore side', from: 'hem side', to: 'gore top', line: [hemSide, goreTop] },
  { seam: 'side', from: 'gore top', to: 'underarm', line: [goreTop, underarm] },
  { seam: 'armhole', from: 'underarm', to: 'shoulder tip', line: armhole },
  { seam: 'shoulder', from: 'shoulder tip', to: 'neck side', line: [tip, neckSide] },
];

/** Place on a line so many mm from its start. */
const along = (line: readonly Point[], mm: number): Point => pointAlong(line, mm / lineLengthMm(line));

function front(): Piece {
  const top: Point = [0, MEASURE.frontNeck];
  const foot: Point = [-MEASURE.frontSlant, 0];
  return draftedPiece({
    id: 'front',
    name: 'Half front',
    parts: [
      { seam: 'hem', from: 'hem centre', to: 'hem side', line: [foot, hemSide] },
      ...sides(frontArmhole),
      {
        seam: 'neck',
        from: 'neck side',
        to: 'neck centre',
        line: curve(neckSide, [75, 715], [45, 690], top),
      },
      { seam: 'centre', from: 'neck centre', to: 'hem centre', line: [top, foot] },
    ],
    stripes: { to: 'centre', angle_deg: 40 },
    grainAt: [110, 330],
    notches: { 'front notch': along(frontArmhole, 90) },
    copies: ['front left', 'front right'],
  });
}

function back(): Piece {
  const top: Point = [0, MEASURE.backNeck];
  const foot: Point = [-MEASURE.backSlant, 0];
  const [outer, inner] = [
    [46, 749.5],
    [34, 747.5],
  ] as const;
  // Square to the middle of the mouth, so that both legs are as long.
  const mouth = Math.hypot(outer[0] - inner[0], outer[1] - inner[1]);
  const apex: Point = [
    (outer[0] + inner[0]) / 2 + (MEASURE.dart * (outer[1] - inner[1])) / mouth,
    (outer[1] + inner[1]) / 2 - (MEASURE.dart * (outer[0] - inner[0])) / mouth,
  ];
  return draftedPiece({
    id: 'back',
    name: 'Half back',
    parts: [
      { seam: 'hem', from: 'hem centre', to: 'hem side', line: [foot, hemSide] },
      ...sides(backArmhole),
      {
        seam: 'neck outer',
        from: 'neck side',
        to: 'dart outer',
        line: curve(neckSide, [70, 758], [58, 752], outer),
      },
      { seam: 'dart outer leg', from: 'dart outer', to: 'dart point', line: [outer, apex] },
      { seam: 'dart inner leg', from: 'dart point', to: 'dart inner', line: [apex, inner] },
      {
        seam: 'neck inner',
        from: 'dart inner',
        to: 'neck centre',
        line: curve(inner, [22, 746], [10, 745], top),
      },
      { seam: 'centre', from: 'neck centre', to: 'hem centre', line: [top, foot] },
    ],
    stripes: { to: 'centre', angle_deg: 35 },
    grainAt: [110, 330],
    notches: { 'back notch 1': along(backArmhole, 85), 'back notch 2': along(backArmhole, 95) },
    copies: ['back right', 'back left'],
  });
}

/** Half of a cap so many mm high, from the underarm to the crown. */
const halfCap = (side: 1 | -1, heightMm: number): Point[] => {
  const [half, y] = [MEASURE.sleeveWidth / 2, MEASURE.sleeveLength];
  return curve(
    [side * half, y],
    [side * half * 0.55, y + heightMm * 0.02],
    [side * half * (side === 1 ? 0.6 : 0.68), y + heightMm * (side === 1 ? 0.97 : 1.03)],
    [0, y + heightMm],
  );
};

/** Height of the cap at which it is as long as both armholes and the ease. */
function capHeight(): number {
  const wanted = lineLengthMm(frontArmhole) + lineLengthMm(backArmhole) + MEASURE.ease;
  let [low, high] = [40, 300];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    const long = lineLengthMm(halfCap(1, middle)) + lineLengthMm(halfCap(-1, middle));
    if (long < wanted) low = middle;
    else high = middle;
  }
  return low;
}

function sleeve(): Piece {
  const height = capHeight();
  const [half, wrist] = [MEASURE.sleeveWidth / 2, MEASURE.wrist / 2];
  const [frontCap, backCap] = [halfCap(1, height), halfCap(-1, height)];
  const [front, back]: Point[] = [
    [half, MEASURE.sleeveLength],
    [-half, MEASURE.sleeveLength],
  ];
  return draftedPiece({
    id: 'sleeve',
    name: 'Sleeve',
    parts: [
      {
        seam: 'wrist',
        from: 'wrist back',
        to: 'wrist front',
        line: [
          [-wrist, 0],
          [wrist, 0],
        ],
      },
      { seam: 'underarm front', from: 'wrist front', to: 'underarm front', line: [[wrist, 0], front] },
      { seam: 'cap front', from: 'underarm front', to: 'crown', line: frontCap },
      { seam: 'cap back', from: 'crown', to: 'underarm back', line: [...backCap].reverse() },
      { seam: 'underarm back', from: 'underarm back', to: 'wrist back', line: [back, [-wrist, 0]] },
    ],
    stripes: { to: 'grain', angle_deg: 0 },
    grainAt: [0, 220],
    notches: {
      'front notch': along(frontCap, 90),
      'back notch 1': along(backCap, 85),
      'back notch 2': along(backCap, 95),
    },
    copies: ['sleeve right', 'sleeve left'],
  });
}

function gore(): Piece {
  const half = MEASURE.goreWidth / 2;
  const height = Math.sqrt(MEASURE.gore ** 2 - half ** 2);
  const [left, right, top]: Point[] = [
    [-half, 0],
    [half, 0],
    [0, height],
  ];
  const piece = draftedPiece({
    id: 'gore',
    name: 'Side gore',
    parts: [
      { seam: 'hem', from: 'hem back', to: 'hem front', line: curve(left, [-40, -14], [40, -14], right) },
      { seam: 'front side', from: 'hem front', to: 'top', line: [right, top] },
      { seam: 'back side', from: 'top', to: 'hem back', line: [top, left] },
    ],
    stripes: { to: 'grain', angle_deg: 0 },
    grainAt: [0, 150],
    notches: {},
    copies: ['gore right', 'gore left'],
  });
  // A deeper hem than the other edges have: its cutting line is drawn.
  const cutting: Point[] = [
    [-120, -50],
    [120, -50],
    [118, 0],
    [18, height + 15],
    [-18, height + 15],
    [-118, 0],
  ];
  return { ...piece, cutting, allowance_mm: null };
}

/** Of the half on the fold: both neck seams, without the dart. */
function collar(): Piece {
  const [f, b] = [front(), back()];
  const length = (piece: Piece, from: string, to: string): number => {
    const at = (id: string) => nearestPlace(piece.stitching, piece.points[id]);
    return lineLengthMm(partOfOutline(piece.stitching, at(from), at(to)));
  };
  const long = Math.round(
    length(f, 'neck side', 'neck centre') +
      length(b, 'neck side', 'dart outer') +
      length(b, 'dart inner', 'neck centre'),
  );
  return draftedPiece({
    id: 'collar',
    name: 'Collar, half on the fold',
    parts: [
      {
        seam: 'neck',
        from: 'back neck',
        to: 'front neck',
        line: curve([0, 0], [long * 0.4, 0], [long * 0.8, 4], [long, 14]),
      },
      {
        seam: 'front end',
        from: 'front neck',
        to: 'front top',
        line: [
          [long, 14],
          [long - 12, 14 + MEASURE.collar],
        ],
      },
      {
        seam: 'top',
        from: 'front top',
        to: 'back top',
        line: curve(
          [long - 12, 14 + MEASURE.collar],
          [long * 0.75, 4 + MEASURE.collar],
          [long * 0.4, MEASURE.collar],
          [0, MEASURE.collar],
        ),
      },
      {
        seam: 'centre back',
        from: 'back top',
        to: 'back neck',
        line: [
          [0, MEASURE.collar],
          [0, 0],
        ],
      },
    ],
    fold: 'centre back',
    stripes: { to: 'grain', angle_deg: 0 },
    grainAt: [long / 2, 34],
    grainMm: 40,
    notches: {},
    copies: ['collar'],
  });
}

function sash(): Piece {
  const [long, wide] = MEASURE.sash;
  return draftedPiece({
    id: 'sash',
    name: 'Sash',
    parts: [
      {
        seam: 'lower edge',
        from: 'left low',
        to: 'right low',
        line: [
          [60, 0],
          [long - 60, 0],
        ],
      },
      {
        seam: 'right end',
        from: 'right low',
        to: 'right top',
        line: [
          [long - 60, 0],
          [long, wide / 2],
          [long - 60, wide],
        ],
      },
      {
        seam: 'upper edge',
        from: 'right top',
        to: 'left top',
        line: [
          [long - 60, wide],
          [60, wide],
        ],
      },
      {
        seam: 'left end',
        from: 'left top',
        to: 'left low',
        line: [
          [60, wide],
          [0, wide / 2],
          [60, 0],
        ],
      },
    ],
    stripes: { to: 'lower edge', angle_deg: 0 },
    grainAt: [long / 2, wide / 2],
    notches: {},
    copies: ['sash'],
    allowanceMm: 10,
  });
}

export const tunicPieces = (): Piece[] => [front(), back(), sleeve(), gore(), collar(), sash()];
