import { pinholeCamera } from '../photo-painter/pinhole-camera.js';
import type { CameraSpec, PlacedReference, ReferenceType } from '../photo-painter/scene.js';
import { type SeededRandom, seededRandom } from '../photo-painter/seeded-random.js';
import { layShape, placedOutline } from './lay-sheet.js';
import { thinned } from './near-polygon.js';
import type { PaperGround, PaperScene, PaperSheet } from './paper-scene.js';
import { drawnShape, SHAPES } from './shapes.js';

type Place = readonly [number, number];

export type ScaleKind = 'a4' | 'letter' | 'card' | 'two-rulers' | 'ruler';

/** What may be asked of a scene instead of being drawn by lot. */
export interface PaperWishes {
  readonly scale?: ScaleKind | null;
  readonly ground?: PaperGround['kind'];
  readonly material?: 'brown' | 'white' | 'tissue' | 'grey' | 'dotted';
  readonly drawn?: boolean;
  readonly mishap?: 'cut-off' | 'touching' | 'no-paper' | 'no-scale' | 'blurred' | 'dark' | null;
  readonly most?: number;
}

const pick = <T>(list: readonly T[], random: SeededRandom): T =>
  list[Math.floor(list.length * random.uniform())];

const RULERS = [
  'metal-mm',
  'wood-inch',
  'dual',
  'tape-mm',
  'metre-stick',
  'black-mm',
  'tape-inch',
] as const satisfies readonly ReferenceType[];

/** A photo of paper as people take them, by lot: what lies where, on what, under which light, seen by which camera. */
export function randomPaperScene(seed: number, wishes: PaperWishes = {}): PaperScene {
  const random = seededRandom(seed * 7919 + 13);
  const scale: ScaleKind | null =
    wishes.mishap === 'no-scale'
      ? null
      : wishes.scale !== undefined
        ? wishes.scale
        : pick(['a4', 'a4', 'letter', 'card', 'two-rulers', 'ruler'], random);
  const camera = drawnCamera(scale, random);
  const groundKind = wishes.ground ?? pick(['plain', 'boards', 'cloth', 'mat'] as const, random);
  const material =
    wishes.material ??
    pick(['brown', 'brown', 'white', 'white', 'tissue', 'grey', 'dotted'] as const, random);
  const ground = drawnGround(groundKind, material, random);
  const frame = frameOf(camera);
  const { papers, references } = drawnThings(scale, material, frame, wishes, random);
  const lit = random.between(0, 2 * Math.PI);
  const far = random.between(0.5, 5);
  const weights = papers.flatMap(({ grain }) =>
    random.uniform() < 0.35 ? [weightOn(papers[0], grain, random)].filter((w) => w !== null) : [],
  );
  return {
    name: `paper-${seed}`,
    seed,
    ground,
    papers,
    references,
    weights,
    camera,
    light: {
      exposure: wishes.mishap === 'dark' ? 0.008 : random.between(0.75, 1.02),
      gradient: [random.between(-0.25, 0.25), random.between(-0.25, 0.25)],
      vignette: random.between(0, 0.2),
      cast: [random.between(0.94, 1.06), 1, random.between(0.86, 1.08)],
      shadows:
        random.uniform() < 0.4
          ? [
              {
                at: [random.between(0, 1), random.between(0, 1)],
                radii: [random.between(0.3, 0.7), random.between(0.2, 0.5)],
                angleDeg: random.between(0, 180),
                depth: random.between(0.1, 0.35),
              },
            ]
          : [],
    },
    sensor: {
      blurPx: wishes.mishap === 'blurred' ? 14 : random.between(0.6, 1.5),
      noiseLevels: random.between(1, 5),
      jpegQuality: Math.round(random.between(78, 95)),
    },
    shadow: {
      offsetMm: [far * Math.cos(lit), far * Math.sin(lit)],
      softMm: random.between(1, 5),
      depth: random.between(0.08, 0.4),
    },
    expected: expectedOf(wishes.mishap),
  };
}

const expectedOf = (mishap: PaperWishes['mishap']): PaperScene['expected'] =>
  mishap === 'blurred' ? 'too-blurred' : mishap === 'dark' ? 'too-dark' : (mishap ?? 'traced');

function drawnCamera(scale: ScaleKind | null, random: SeededRandom): CameraSpec {
  const [long, short] = pick(
    [
      [2560, 1920],
      [2560, 1920],
      [2208, 1656],
      [3264, 2448],
    ] as const,
    random,
  );
  const upright = random.uniform() < 0.3;
  const focal35Mm = pick([24, 26, 26, 28, 35, 50], random);
  const widthPx = upright ? short : long;
  const heightPx = upright ? long : short;
  const pxPerMm = random.between(2.6, 5) * (long / 3264);
  const focalPx = (focal35Mm * Math.hypot(widthPx, heightPx)) / 43.267;
  // One ruler alone shows no tilt across it: such photos are taken as level as a hand can.
  const most = scale === 'ruler' ? 2 : 12;
  const tilt = most * Math.sqrt(random.uniform());
  const way = random.between(0, 2 * Math.PI);
  return {
    widthPx,
    heightPx,
    focal35Mm,
    exifFocal: random.uniform() < 0.7,
    exifOrientation: 1,
    distanceMm: focalPx / pxPerMm,
    tiltDeg: [tilt * Math.cos(way), tilt * Math.sin(way)],
    rollDeg: 0,
    k1: random.between(-0.012, 0.012),
    aimMm: [0, 0],
  };
}

function drawnGround(
  kind: PaperGround['kind'],
  material: NonNullable<PaperWishes['material']>,
  random: SeededRandom,
): PaperGround {
  const pale = material === 'brown' || material === 'grey';
  switch (kind) {
    case 'plain':
      return {
        kind,
        colour: pale
          ? pick(['#e8e4da', '#d9dbdc', '#f0efec', '#4a3a2e', '#c9b79c'], random)
          : pick(['#8d7f70', '#5b4636', '#c8b08c', '#9aa7ad', '#b9a888', '#3f4a52', '#d0c2a8'], random),
        mottle: random.between(0.01, 0.05),
      };
    case 'boards':
      return {
        kind,
        colours: pale
          ? pick(
              [
                ['#6b4a33', '#74523a', '#5f4230'],
                ['#d7c4a3', '#cdb892', '#dccbae'],
                ['#3d2b20', '#49352a'],
              ],
              random,
            )
          : pick(
              [
                ['#a9794c', '#b28457', '#9c6e43'],
                ['#6b4a33', '#74523a', '#5f4230'],
                ['#c79f6b', '#bb935f'],
              ],
              random,
            ),
        widthMm: random.between(70, 180),
        angleDeg: random.between(0, 180),
        grain: random.between(0.08, 0.22),
        seamMm: random.between(0.8, 3),
      };
    case 'cloth':
      return {
        kind,
        colour: pick(['#1f2a44', '#26262a', '#4a2430', '#2e4636', '#5a5048'], random),
        threadMm: random.between(0.4, 1.2),
        relief: random.between(0.1, 0.3),
      };
    case 'mat':
      return {
        kind,
        ...pick(
          [
            { colour: '#1f5a4a', lineColour: '#d8e0b8' },
            { colour: '#2d4f7a', lineColour: '#c8d4e0' },
            { colour: '#3b3d40', lineColour: '#b9bcc0' },
            { colour: '#6f8f86', lineColour: '#f0f0e0' },
          ],
          random,
        ),
        cellMm: pick([10, 10, 12.7, 25.4], random),
        angleDeg: random.between(-12, 12),
      };
  }
}

/** Half the extent of the table in view, about, and whether places lie in the picture with room to spare (part of its half sides). */
interface Frame {
  readonly x: number;
  readonly y: number;
  holds(points: readonly Place[], part: number): boolean;
}

function frameOf(spec: CameraSpec): Frame {
  const camera = pinholeCamera(spec);
  const x = ((spec.widthPx / camera.focalPx) * spec.distanceMm) / 2;
  return {
    x,
    y: (x * spec.heightPx) / spec.widthPx,
    holds: (points, part) =>
      points.every(([u, v]) => {
        const [px, py] = camera.photoFromCloth(u, v);
        return (
          Math.abs(2 * px - spec.widthPx) < part * spec.widthPx &&
          Math.abs(2 * py - spec.heightPx) < part * spec.heightPx
        );
      }),
  };
}

const within = (points: readonly Place[], frame: Frame, part: number): boolean => frame.holds(points, part);

/** Paper and references that have room beside each other. */
function drawnThings(
  scale: ScaleKind | null,
  material: NonNullable<PaperWishes['material']>,
  frame: Frame,
  wishes: PaperWishes,
  random: SeededRandom,
): Pick<PaperScene, 'papers' | 'references'> {
  for (let attempt = 0; ; attempt++) {
    // Where there is no room, smaller pieces are cut.
    const papers =
      wishes.mishap === 'no-paper' ? [] : drawnPapers(frame, material, wishes, 0.93 ** attempt, random);
    const references = scale === null ? [] : drawnReferences(scale, papers, frame, random);
    if (references !== null && (papers.length > 0 || wishes.mishap === 'no-paper'))
      return { papers, references };
  }
}

function drawnPapers(
  frame: Frame,
  material: NonNullable<PaperWishes['material']>,
  wishes: PaperWishes,
  smaller: number,
  random: SeededRandom,
): PaperSheet[] {
  const count = wishes.mishap === 'touching' ? 2 : random.uniform() < 0.2 ? 2 : 1;
  const drawn = wishes.drawn ?? random.uniform() < 0.3;
  const sheets: PaperSheet[] = [];
  for (let tries = 0; sheets.length < Math.min(count, wishes.most ?? 2) && tries < 400; tries++) {
    const size =
      random.between(0.5, 1.45) * frame.y * 0.96 ** (tries / 40) * (count > 1 ? 0.75 : 1) * smaller;
    const at: Place =
      wishes.mishap === 'cut-off'
        ? [
            frame.x * random.between(0.75, 0.95) * (random.uniform() < 0.5 ? 1 : -1),
            random.between(-0.2, 0.2) * frame.y,
          ]
        : sheets.length === 1 && wishes.mishap === 'touching'
          ? [
              sheets[0].outline[0][0] + random.between(-25, 25),
              sheets[0].outline[0][1] + random.between(-25, 25),
            ]
          : [random.between(-0.4, 0.4) * frame.x, random.between(-0.4, 0.4) * frame.y];
    const shape = drawnShape(pick(SHAPES, random), size, random);
    const turnDeg = random.between(0, 360);
    const bounds = thinned(placedOutline(shape.outline, at, turnDeg), 10);
    const isCut = wishes.mishap === 'cut-off';
    if (within(bounds, frame, isCut ? 1.03 : 0.86) === isCut) continue;
    if (wishes.mishap !== 'touching' && sheets.some((other) => apart(other.paper, bounds) < 12)) continue;
    const sheet = layShape(
      shape,
      {
        atMm: at,
        turnDeg,
        drawn,
        notches: Math.floor(random.between(0, 5)),
        heads: pick([0, 1, 1, 1, 2] as const, random),
        decoys: Math.floor(random.between(0, 4)),
        creases: Math.floor(random.between(0, 3)),
        material,
        pen: pick(['#20242c', '#1d2f6a', '#3a3a3c', '#7a1d22'], random),
      },
      random,
    );
    if (wishes.mishap === 'cut-off' ? within(sheet.paper, frame, 1.03) : !within(sheet.paper, frame, 0.86))
      continue;
    const overlaps = sheets.some(
      (other) => apart(other.paper, sheet.paper) < (wishes.mishap === 'touching' ? -1 : 12),
    );
    if (wishes.mishap === 'touching' ? sheets.length === 1 && !overlaps : overlaps) continue;
    sheets.push(sheet);
  }
  return sheets;
}

/** Least distance between two outlines' points; negative where one holds a point of the other. */
function apart(p: readonly Place[], q: readonly Place[]): number {
  const thin = (list: readonly Place[]): Place[] => denser(list);
  const a = thin(p);
  const b = thin(q);
  if (a.some((at) => holds(q, at)) || b.some((at) => holds(p, at))) return -10;
  let best = Number.POSITIVE_INFINITY;
  for (const [x, y] of a) for (const [u, v] of b) best = Math.min(best, (x - u) ** 2 + (y - v) ** 2);
  return Math.sqrt(best);
}

/** Points about every 8 mm. */
function denser(list: readonly Place[]): Place[] {
  const out: Place[] = [];
  let last: Place | null = null;
  list.forEach((a, k) => {
    const b = list[(k + 1) % list.length];
    const steps = Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / 8);
    for (let i = 0; i < steps; i++) {
      const t = i / steps;
      const at: Place = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      if (last === null || Math.hypot(at[0] - last[0], at[1] - last[1]) > 6) {
        out.push(at);
        last = at;
      }
    }
  });
  return out;
}

export function holds(polygon: readonly Place[], [x, y]: Place): boolean {
  let inside = false;
  polygon.forEach(([ax, ay], k) => {
    const [bx, by] = polygon[(k + 1) % polygon.length];
    if (ay <= y !== by <= y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) inside = !inside;
  });
  return inside;
}

const SIZES: Readonly<Record<string, Place>> = {
  'sheet-a4': [297, 210],
  'sheet-letter': [279.4, 215.9],
  'card-id1': [85.6, 53.98],
  'metal-mm': [320, 30],
  'wood-inch': [310, 32],
  dual: [320, 40],
  'tape-mm': [420, 16],
  'metre-stick': [1000, 30],
  'black-mm': [320, 35],
  'tape-inch': [420, 18],
};

/** The references beside the paper where there is room; a card or a ruler on it where there is none. */
function drawnReferences(
  scale: ScaleKind,
  papers: readonly PaperSheet[],
  frame: Frame,
  random: SeededRandom,
): PlacedReference[] | null {
  const types: ReferenceType[] =
    scale === 'a4'
      ? ['sheet-a4']
      : scale === 'letter'
        ? ['sheet-letter']
        : scale === 'card'
          ? ['card-id1']
          : scale === 'ruler'
            ? [pick(RULERS.slice(0, 4), random)]
            : [pick(RULERS.slice(0, 3), random), pick(RULERS.slice(0, 3), random)];
  const turn = random.between(0, 180);
  const placed: PlacedReference[] = [];
  const taken: Place[][] = papers.map(({ paper }) => thinned(paper, 1));
  for (const [k, type] of types.entries()) {
    const [w, h] = SIZES[type];
    const thick = type.startsWith('sheet') ? 0.1 : type === 'card-id1' ? 0.76 : 0.4;
    let best: { at: Place; angle: number; room: number; box: Place[] } | null = null;
    for (let tries = 0; tries < 250; tries++) {
      const angle = k === 1 ? turn + 90 + random.between(-3, 3) : tries < 125 ? turn : random.between(0, 180);
      const at: Place = [random.between(-0.92, 0.92) * frame.x, random.between(-0.92, 0.92) * frame.y];
      const box = boxOf(at, angle, w, h);
      if (type !== 'metre-stick' && !within(box, frame, 0.9)) continue;
      const room = Math.min(60, ...taken.map((paper) => apart(paper, box)));
      if (best === null || room > best.room) best = { at, angle, room, box };
      if (room > 30) break;
    }
    if (best === null || best.room < 6) return null;
    taken.push(best.box);
    placed.push({ type, atMm: best.at, angleDeg: best.angle, heightMm: thick, wear: random.between(0, 0.3) });
  }
  return placed;
}

function boxOf([x, y]: Place, angleDeg: number, w: number, h: number): Place[] {
  const a = (angleDeg * Math.PI) / 180;
  const c = Math.cos(a);
  const s = Math.sin(a);
  return [
    [-w / 2, -h / 2],
    [w / 2, -h / 2],
    [w / 2, h / 2],
    [-w / 2, h / 2],
  ].map(([p, q]) => [x + p * c - q * s, y + p * s + q * c]);
}

function weightOn(
  { outline, paper }: PaperSheet,
  grain: PaperSheet['grain'],
  random: SeededRandom,
): { at: Place; radiusMm: number; colour: string } | null {
  for (let tries = 0; tries < 60; tries++) {
    const base = pick(outline, random);
    const at: Place = [base[0] + random.between(-80, 80), base[1] + random.between(-80, 80)];
    const radiusMm = random.between(10, 22);
    if (!holds(paper, at)) continue;
    if (denser(paper).some((p) => Math.hypot(p[0] - at[0], p[1] - at[1]) < radiusMm + 8)) continue;
    if (grain) {
      const dx = grain.head[0] - grain.foot[0];
      const dy = grain.head[1] - grain.foot[1];
      const t = Math.max(
        0,
        Math.min(1, ((at[0] - grain.foot[0]) * dx + (at[1] - grain.foot[1]) * dy) / (dx * dx + dy * dy)),
      );
      if (Math.hypot(at[0] - grain.foot[0] - t * dx, at[1] - grain.foot[1] - t * dy) < radiusMm + 14)
        continue;
    }
    return { at, radiusMm, colour: pick(['#30343a', '#8f8a80', '#b33a2c'], random) };
  }
  return null;
}
