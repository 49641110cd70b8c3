import type { SeededRandom } from '../photo-painter/seeded-random.js';
import { depthWithin } from './near-polygon.js';
import type { PaperSheet, PenStroke } from './paper-scene.js';
import { hullOf, lengthOf, type PieceShape, placeAlong, withNotch } from './piece-shape.js';

type Place = readonly [number, number];

export interface SheetWishes {
  readonly atMm: Place;
  readonly turnDeg: number;
  readonly drawn: boolean;
  readonly notches: number;
  readonly heads: 0 | 1 | 2;
  readonly decoys: number;
  readonly creases: number;
  readonly material: 'brown' | 'white' | 'tissue' | 'grey' | 'dotted';
  readonly pen: string;
}

const COLOURS = {
  brown: ['#b48a5c', '#c29a6b', '#a67b4e', '#bb9367'],
  white: ['#f1efe8', '#f6f5f2', '#e9e6dc'],
  tissue: ['#d8c49a', '#e6e0d2', '#cfc8b8'],
  grey: ['#9a9a96', '#b9b4ad'],
  dotted: ['#eef0ee'],
} as const;

function placer(atMm: Place, turnDeg: number): (p: Place) => Place {
  const a = (turnDeg * Math.PI) / 180;
  return ([x, y]) => [
    atMm[0] + x * Math.cos(a) - y * Math.sin(a),
    atMm[1] + x * Math.sin(a) + y * Math.cos(a),
  ];
}

export const placedOutline = (outline: readonly Place[], atMm: Place, turnDeg: number): Place[] =>
  outline.map(placer(atMm, turnDeg));

/** The shape as a maker would have it: cut or drawn, notched, with its grain line and other pen marks, laid somewhere on the table. */
export function layShape(shape: PieceShape, wishes: SheetWishes, random: SeededRandom): PaperSheet {
  const laid = placer(wishes.atMm, wishes.turnDeg);
  const outline = shape.outline.map(laid);
  const corners = shape.corners.map(({ at, turnDeg }) => ({ at: laid(at), turnDeg }));
  const inside = depthWithin(outline);
  const strokes: PenStroke[] = [];
  const pen = (points: readonly Place[], more: Partial<PenStroke> = {}): void => {
    strokes.push({ points, widthMm: random.between(0.5, 0.9), colour: wishes.pen, strength: 0.85, ...more });
  };
  if (wishes.drawn) pen(outline, { closed: true, widthMm: random.between(0.6, 1.1) });
  const { paper, notches } = notched(outline, corners, wishes, pen, random);
  const grain = wishes.heads === 0 ? null : grainOf(inside, outline, wishes.heads, pen, random);
  for (let k = 0; k < wishes.decoys; k++) decoy(inside, outline, pen, random);
  const creases = Array.from({ length: wishes.creases }, () => ({
    at: laid([random.between(-60, 60), random.between(-60, 60)]),
    angleDeg: random.between(0, 180),
    widthMm: random.between(0.5, 2),
    depth: random.between(0.02, 0.07),
  }));
  const tones = COLOURS[wishes.material];
  return {
    outline,
    corners,
    paper: wishes.drawn ? roughCut(outline, random) : paper,
    drawn: wishes.drawn,
    notches,
    grain,
    strokes,
    colour: tones[Math.floor(random.uniform() * tones.length)],
    speckle: wishes.material === 'brown' ? random.between(0.015, 0.04) : random.between(0.004, 0.012),
    clear: wishes.material === 'tissue' ? random.between(0.12, 0.3) : 0,
    creases,
  };
}

type Pen = (points: readonly Place[], more?: Partial<PenStroke>) => void;

function notched(
  outline: readonly Place[],
  corners: PaperSheet['corners'],
  wishes: SheetWishes,
  pen: Pen,
  random: SeededRandom,
): Pick<PaperSheet, 'paper' | 'notches'> {
  const total = lengthOf(outline);
  const notches: { at: Place; kind: 'vee' | 'snip' | 'tick' }[] = [];
  let paper: readonly Place[] = outline;
  for (let tries = 0; notches.length < wishes.notches && tries < 60; tries++) {
    const { at, along } = placeAlong(outline, random.between(0, total));
    const clear = [...corners, ...notches].every((c) => Math.hypot(c.at[0] - at[0], c.at[1] - at[1]) > 28);
    if (!clear) continue;
    const kind = wishes.drawn ? 'tick' : (['vee', 'snip', 'tick'] as const)[Math.floor(3 * random.uniform())];
    const inwards: Place = [-along[1], along[0]];
    if (kind === 'tick') {
      const out = wishes.drawn ? random.between(2.5, 4) : 0;
      const deep = random.between(4, 6.5);
      pen([
        [at[0] - out * inwards[0], at[1] - out * inwards[1]],
        [at[0] + deep * inwards[0], at[1] + deep * inwards[1]],
      ]);
    } else {
      // Measured on the line as it is now.
      const place = alongOf(paper, at);
      paper =
        kind === 'vee'
          ? withNotch(paper, place, 'vee', random.between(4, 7.5), random.between(4, 7.5))
          : withNotch(paper, place, 'snip', random.between(0.6, 1.4), random.between(4, 7));
    }
    notches.push({ at, kind });
  }
  return { paper, notches };
}

function alongOf(polygon: readonly Place[], at: Place): number {
  let run = 0;
  let best = Number.POSITIVE_INFINITY;
  let place = 0;
  polygon.forEach((p, k) => {
    const q = polygon[(k + 1) % polygon.length];
    const dx = q[0] - p[0];
    const dy = q[1] - p[1];
    const length = Math.hypot(dx, dy);
    const t = Math.max(0, Math.min(1, ((at[0] - p[0]) * dx + (at[1] - p[1]) * dy) / (length * length || 1)));
    const away = Math.hypot(at[0] - p[0] - t * dx, at[1] - p[1] - t * dy);
    if (away < best) {
      best = away;
      place = run + t * length;
    }
    run += length;
  });
  return place;
}

type Inside = (x: number, y: number) => number;

function somewhere(inside: Inside, outline: readonly Place[], marginMm: number, random: SeededRandom): Place {
  const xs = outline.map((p) => p[0]);
  const ys = outline.map((p) => p[1]);
  let margin = marginMm;
  for (let k = 0; ; k++) {
    const p: Place = [
      random.between(Math.min(...xs), Math.max(...xs)),
      random.between(Math.min(...ys), Math.max(...ys)),
    ];
    if (inside(...p) > margin) return p;
    if (k % 200 === 199) margin *= 0.7;
  }
}

/** How far one can go from a place before the edge is nearer than the margin. */
function reachFrom(inside: Inside, [x, y]: Place, angle: number, marginMm: number): number {
  let far = 0;
  while (inside(x + (far + 2) * Math.cos(angle), y + (far + 2) * Math.sin(angle)) > marginMm) far += 2;
  return far;
}

function grainOf(
  inside: Inside,
  outline: readonly Place[],
  heads: 1 | 2,
  pen: Pen,
  random: SeededRandom,
): PaperSheet['grain'] {
  for (let tries = 0; ; tries++) {
    const margin = tries < 160 ? 12 : 5;
    const middle = somewhere(inside, outline, 14, random);
    const angle = random.between(0, 2 * Math.PI);
    const least = tries < 80 ? 90 : tries < 160 ? 45 : 12;
    const ahead = Math.min(160, reachFrom(inside, middle, angle, margin));
    const behind = Math.min(160, reachFrom(inside, middle, angle + Math.PI, margin));
    if (ahead + behind < least) continue;
    const at = (t: number): Place => [middle[0] + t * Math.cos(angle), middle[1] + t * Math.sin(angle)];
    const [foot, head] = [at(-behind), at(ahead)];
    const widthMm = random.between(0.5, 0.9);
    pen([foot, head], { widthMm });
    const long = random.between(6, 11);
    const spread = random.between(20, 38) * (Math.PI / 180);
    const filled = random.uniform() < 0.4;
    const tip = (p: Place, towards: number): void => {
      const barb = (side: number): Place => [
        p[0] - long * Math.cos(towards + side * spread),
        p[1] - long * Math.sin(towards + side * spread),
      ];
      pen([barb(1), p, barb(-1)], { widthMm, filled, closed: filled });
    };
    tip(head, angle);
    if (heads === 2) tip(foot, angle + Math.PI);
    return { foot, head, heads };
  }
}

/** Writing, a helper line, a crossed helper line, or a small sum. */
function decoy(inside: Inside, outline: readonly Place[], pen: Pen, random: SeededRandom): void {
  const at = somewhere(inside, outline, 16, random);
  const angle = random.between(0, 2 * Math.PI);
  const kind = random.uniform();
  if (kind < 0.5) {
    const far = Math.min(random.between(60, 260), reachFrom(inside, at, angle, 6));
    const back = Math.min(random.between(0, 120), reachFrom(inside, at, angle + Math.PI, 6));
    pen(
      [
        [at[0] - back * Math.cos(angle), at[1] - back * Math.sin(angle)],
        [at[0] + far * Math.cos(angle), at[1] + far * Math.sin(angle)],
      ],
      { widthMm: random.between(0.3, 0.7), strength: random.between(0.4, 0.8) },
    );
    return;
  }
  // Writing: a wavering line of loops and strokes.
  const letters = Math.floor(random.between(4, 10));
  const high = random.between(5, 11);
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  for (let k = 0; k < letters; k++) {
    const points = Array.from({ length: 7 }, (): Place => {
      const x = (k + random.uniform() * 0.8) * high * 0.75;
      const y = random.uniform() * high;
      return [at[0] + x * c - y * s, at[1] + x * s + y * c];
    }).filter((p) => inside(...p) > 4);
    if (points.length > 2) pen(points, { widthMm: random.between(0.4, 0.7) });
  }
}

/** A sheet cut about a drawn outline with a few straight strokes of the scissors. */
function roughCut(outline: readonly Place[], random: SeededRandom): Place[] {
  const hull = hullOf(outline);
  const turns = 9;
  const cuts = Array.from({ length: turns }, (_, k) => {
    const angle = ((k + random.between(-0.3, 0.3)) * 2 * Math.PI) / turns;
    const [nx, ny] = [Math.cos(angle), Math.sin(angle)];
    return { nx, ny, at: Math.max(...hull.map(([x, y]) => x * nx + y * ny)) + random.between(12, 26) };
  });
  const points = cuts.map((p, k): Place => {
    const q = cuts[(k + 1) % turns];
    const det = p.nx * q.ny - p.ny * q.nx;
    return [(p.at * q.ny - q.at * p.ny) / det, (p.nx * q.at - q.nx * p.at) / det];
  });
  return hullOf(points);
}
