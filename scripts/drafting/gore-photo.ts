import { layShape } from '../../test/support/paper-painter/lay-sheet.js';
import type { PaperScene } from '../../test/support/paper-painter/paper-scene.js';
import { seededRandom } from '../../test/support/photo-painter/seeded-random.js';
import { tunicPieces } from './tunic.js';

type Place = readonly [number, number];

/** Where the gore's paper lies on the table, mm, and how far it is turned, degrees. */
const AT: Place = [-125, 0];
const TURN_DEG = 11;
const PEN = '#20242c';

/** The tunic's side gore, cut from brown paper along its stitching line, on a dark cloth beside an A4 sheet, the phone held 5 degrees off level. */
export function gorePhotoScene(): PaperScene {
  const gore = tunicPieces().find(({ id }) => id === 'gore');
  if (gore === undefined) throw new Error('the tunic has no gore');
  const middleOf = (k: 0 | 1): number => {
    const values = gore.stitching.map((p) => p[k]);
    return (Math.min(...values) + Math.max(...values)) / 2;
  };
  const middle: Place = [middleOf(0), middleOf(1)];
  const centred = ([x, y]: Place): Place => [x - middle[0], y - middle[1]];
  const outline = gore.stitching.map(centred);
  const paper = layShape(
    { outline, corners: cornersOf(outline) },
    {
      atMm: AT,
      turnDeg: TURN_DEG,
      drawn: false,
      notches: 2,
      heads: 0,
      decoys: 1,
      creases: 1,
      material: 'brown',
      pen: PEN,
    },
    seededRandom(21),
  );
  const a = (TURN_DEG * Math.PI) / 180;
  const laid = ([x, y]: Place): Place => [
    AT[0] + x * Math.cos(a) - y * Math.sin(a),
    AT[1] + x * Math.sin(a) + y * Math.cos(a),
  ];
  const foot = laid(centred(gore.grain[0]));
  const head = laid(centred(gore.grain[1]));
  const back = Math.atan2(foot[1] - head[1], foot[0] - head[0]);
  const barb = (turn: number): Place => [
    head[0] + 9 * Math.cos(back + turn),
    head[1] + 9 * Math.sin(back + turn),
  ];
  const pen = { widthMm: 0.7, colour: PEN, strength: 0.85 };
  return {
    name: 'gore',
    seed: 11,
    ground: { kind: 'cloth', colour: '#2b3038', threadMm: 0.8, relief: 0.15 },
    papers: [
      {
        ...paper,
        grain: { foot, head, heads: 1 },
        strokes: [
          ...paper.strokes,
          { ...pen, points: [foot, head] },
          { ...pen, points: [barb(0.5), head, barb(-0.5)] },
        ],
      },
    ],
    references: [{ type: 'sheet-a4', atMm: [150, 5], angleDeg: 84, heightMm: 0.1, wear: 0 }],
    weights: [],
    camera: {
      widthPx: 2000,
      heightPx: 1500,
      focal35Mm: 26,
      exifFocal: true,
      exifOrientation: 1,
      distanceMm: 520,
      tiltDeg: [4, -3],
      rollDeg: 0,
      k1: 0.006,
      aimMm: [0, 0],
    },
    light: { exposure: 0.92, gradient: [0.12, -0.08], vignette: 0.1, cast: [1, 1, 0.98], shadows: [] },
    sensor: { blurPx: 0.8, noiseLevels: 2, jpegQuality: 82 },
    shadow: { offsetMm: [1.5, -1.5], softMm: 2, depth: 0.3 },
    expected: 'traced',
  };
}

function cornersOf(outline: readonly Place[]): { at: Place; turnDeg: number }[] {
  const n = outline.length;
  return outline.flatMap((p, k) => {
    const [a, b] = [outline[(k + n - 1) % n], outline[(k + 1) % n]];
    const [u, v] = [Math.atan2(p[1] - a[1], p[0] - a[0]), Math.atan2(b[1] - p[1], b[0] - p[0])];
    const turnDeg = (Math.atan2(Math.sin(v - u), Math.cos(v - u)) * 180) / Math.PI;
    return Math.abs(turnDeg) >= 20 ? [{ at: p, turnDeg }] : [];
  });
}
