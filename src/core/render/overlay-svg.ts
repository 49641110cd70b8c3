import type { Point } from '../model/band-model.js';
import { INK } from './ink.js';
import type { OverlayMarks } from './overlay-marks.js';
import { strokeText, textWidth } from './stroke-text.js';
import { element, num } from './svg.js';

/** What the picture says in words; lengths already in the reader's unit. */
export interface OverlayWords {
  /** Beside the dimension line: "repeat 55.0 mm". Null when there is no repeat. */
  readonly repeat: string | null;
  /** Beside the reference's two ends: "300.0 mm". Null when it has none. */
  readonly reference: string | null;
  /** One line under the photo. */
  readonly caption: string;
}

export interface OverlayDrawing {
  /** The photo's part of the picture, px. */
  readonly widthPx: number;
  readonly photoHeightPx: number;
  /** Strip under the photo for the key and the caption, px. */
  readonly stripHeightPx: number;
  /** Transparent but for the marks; as large as photo and strip together. */
  readonly svg: string;
}

/** Each kind of line has its own colour and its own dash, so that neither is needed to tell them apart. */
const LINES = {
  edge: { colour: INK, dash: null },
  repeat: { colour: '#0a46a6', dash: [9, 5] },
  reference: { colour: '#a83c00', dash: [2, 4] },
  cell: { colour: '#7a1f8f', dash: [14, 4] },
  intrusion: { colour: '#7a1f8f', dash: null },
  clean: { colour: '#0b6b3a', dash: null },
  region: { colour: '#7a1a80', dash: [14, 4, 3, 4] },
  direction: { colour: '#7a1a80', dash: null },
} as const;
type LineKind = keyof typeof LINES;

/**
 * The marks laid over the photo: every line dark with a white casing, so that it shows on any cloth.
 *
 * @param shownPerPhoto px of the shown picture per px of the photo
 */
export function overlaySvg(
  marks: OverlayMarks,
  words: OverlayWords,
  widthPx: number,
  photoHeightPx: number,
  shownPerPhoto: number,
): OverlayDrawing {
  // One thousandth of the long side: line widths and letters keep their proportion to the picture.
  const grain = Math.max(widthPx, photoHeightPx) / 1000;
  const shown = (p: Point): Point => [p[0] * shownPerPhoto, p[1] * shownPerPhoto];
  const frame = [widthPx, photoHeightPx] as const;
  const edges = marks.edges.map((line) => line.map(shown));
  const edgeWidth = Math.min(1.4, 0.08 * crossingSpacing(edges, frame, grain)) * grain;
  // The plates with lengths come first: names of bands give way to them.
  const repeatPlate = dimension(marks.repeatDimension?.map(shown), words.repeat, grain, frame);
  const referencePlate = endPlate(marks.ends?.map(shown), words.reference, grain, frame);
  const taken = [repeatPlate, referencePlate].flatMap((one) => (one ? [one.box] : []));
  const body = [
    lines('edge', edges.map(openPath), edgeWidth),
    referenceMarks(marks, shown, grain),
    marks.repeatOutline
      ? lines('repeat', `${openPath(marks.repeatOutline.map(shown))}Z`, 1.7 * grain, grain)
      : '',
    givenMarks(marks, shown, grain),
    lines('intrusion', closedPaths(marks.intrusions, shown), 0.6 * grain),
    lines(
      'clean',
      marks.cleanPlaces.map((line) => openPath(line.map(shown))),
      1.6 * grain,
    ),
    lines('cell', closedPaths(marks.motifCell ? [marks.motifCell] : [], shown), 1.7 * grain, grain),
    bandPlates(marks, shown, frame, grain, taken),
    repeatPlate?.svg ?? '',
    referencePlate?.svg ?? '',
  ].join('');
  const strip = keyStrip(marks, words.caption, widthPx, grain);
  const clip = element(
    'clipPath',
    { id: 'photo' },
    element('rect', { width: widthPx, height: photoHeightPx }),
  );
  const svg = element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', width: widthPx, height: photoHeightPx + strip.height },
    clip +
      element('g', { 'clip-path': 'url(#photo)' }, body) +
      element('g', { transform: `translate(0 ${photoHeightPx})` }, strip.body),
  );
  return { widthPx, photoHeightPx, stripHeightPx: strip.height, svg };
}

const openPath = (points: readonly Point[]): string =>
  points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${num(x)} ${num(y)}`).join('');

const closedPaths = (shapes: readonly (readonly Point[])[], shown: (p: Point) => Point): string =>
  shapes.map((shape) => `${openPath(shape.map(shown))}Z`).join('');

/**
 * Paths drawn twice: all white casings, then the lines themselves. dashUnit: length of one unit of the dash. Hundreds of lines in one
 * path take a renderer several times as long as one path each.
 */
function lines(kind: LineKind, d: string | readonly string[], width: number, dashUnit = 0): string {
  const paths = (typeof d === 'string' ? [d] : d)
    .filter((one) => one !== '')
    .map((one) => element('path', { d: one }))
    .join('');
  if (paths === '') return '';
  const { colour, dash } = LINES[kind];
  const shape = { fill: 'none', 'stroke-linejoin': 'round' };
  const dashes: Record<string, string> =
    dash && dashUnit > 0 ? { 'stroke-dasharray': dash.map((part) => num(part * dashUnit)).join(' ') } : {};
  return (
    element('g', { ...shape, stroke: '#ffffff', 'stroke-opacity': 0.9, 'stroke-width': 2.4 * width }, paths) +
    element('g', { ...shape, stroke: colour, 'stroke-width': width, ...dashes }, paths)
  );
}

/** Typical distance between neighbouring edges, in grains: fine ticking gets finer lines. */
function crossingSpacing(
  edges: readonly (readonly Point[])[],
  [width, height]: readonly [number, number],
  grain: number,
): number {
  if (edges.length < 2) return Number.POSITIVE_INFINITY;
  const middles = edges.map((line) => line[line.length >> 1]);
  const steps = middles
    .slice(1)
    .map((p, k) => Math.hypot(p[0] - middles[k][0], p[1] - middles[k][1]))
    .sort((a, b) => a - b);
  return Math.min(steps[steps.length >> 1], Math.hypot(width, height)) / grain;
}

function referenceMarks(marks: OverlayMarks, shown: (p: Point) => Point, grain: number): string {
  const ticks = marks.ticks.map(({ foot, tip }) => openPath([foot, tip].map(shown)));
  const outline = marks.referenceOutline ? `${openPath(marks.referenceOutline.map(shown))}Z` : '';
  const ends = (marks.ends ?? []).map((end) => target(shown(end), 7 * grain)).join('');
  return (
    lines('reference', outline, 1.5 * grain, grain) +
    lines('reference', ticks, 0.7 * grain) +
    lines('reference', ends, 1.5 * grain)
  );
}

/** The region and the direction that a person gave; the direction runs both ways. */
function givenMarks({ region, direction }: OverlayMarks, shown: (p: Point) => Point, grain: number): string {
  const outline = region ? `${openPath(region.map(shown))}Z` : '';
  const line = direction ? arrowBothWays(direction.map(shown), 14 * grain) : '';
  return lines('region', outline, 2 * grain, grain) + lines('direction', line, 2.4 * grain);
}

function arrowBothWays([a, b]: readonly Point[], head: number): string {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return openPath([a, b]) + arrowHead(a, along, 1, head) + arrowHead(b, along, -1, head);
}

/** `way`: 1 where the head's barbs point along, -1 against. */
function arrowHead(tip: Point, along: Point, way: number, head: number): string {
  const back = (side: number): Point => [
    tip[0] + way * head * along[0] - side * 0.45 * head * along[1],
    tip[1] + way * head * along[1] + side * 0.45 * head * along[0],
  ];
  return openPath([back(1), tip, back(-1)]);
}

/** A ring with a cross through it. */
const target = ([x, y]: Point, r: number): string =>
  `M${num(x - r)} ${num(y)}a${num(r)} ${num(r)} 0 1 0 ${num(2 * r)} 0a${num(r)} ${num(r)} 0 1 0 ${num(-2 * r)} 0` +
  `M${num(x - 1.7 * r)} ${num(y)}H${num(x + 1.7 * r)}M${num(x)} ${num(y - 1.7 * r)}V${num(y + 1.7 * r)}`;

interface Plate {
  readonly box: Box;
  readonly svg: string;
}

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Words on a white plate, its middle at (x, y), kept inside the photo. */
function plate(
  text: string,
  [x, y]: Point,
  size: number,
  colour: string,
  [width, height]: readonly [number, number],
): Plate {
  const w = textWidth(text, size) + 1.2 * size;
  const h = 2 * size;
  const left = Math.max(0, Math.min(width - w, x - w / 2));
  const top = Math.max(0, Math.min(height - h, y - h / 2));
  const svg =
    element('rect', {
      x: left,
      y: top,
      width: w,
      height: h,
      rx: 0.4 * size,
      fill: '#ffffff',
      'fill-opacity': 0.92,
      stroke: colour,
      'stroke-width': 0.1 * size,
    }) + strokeText(text, left + w / 2, top + 1.5 * size, { size, anchor: 'middle', colour, weight: 0.15 });
  return { box: { x: left, y: top, width: w, height: h }, svg };
}

/** Tries for a label's place, in label heights along the stripe from where it was wanted. */
const SIDESTEPS = [0, 1, -1, 2, -2];

/** A name on every band, moved along its stripe where it would cover another, and left out where nothing helps. */
function bandPlates(
  marks: OverlayMarks,
  shown: (p: Point) => Point,
  frame: readonly [number, number],
  grain: number,
  taken: readonly Box[],
): string {
  const size = 8 * grain;
  const [alongX, alongY] = stripeDirection(marks);
  const placed = [...taken];
  let svg = '';
  for (const { band, at } of marks.bandLabels) {
    const [x, y] = shown(at);
    const free = SIDESTEPS.map((k): Point => [x + 2.3 * size * k * alongX, y + 2.3 * size * k * alongY])
      .filter(([px, py], k) => k === 0 || (px > 0 && py > 0 && px < frame[0] && py < frame[1]))
      .map((place) => plate(band, place, size, INK, frame))
      .find((one) => !placed.some((box) => overlap(box, one.box)));
    if (free === undefined) continue;
    placed.push(free.box);
    svg += free.svg;
  }
  return svg;
}

/** Along the longest edge drawn, unit length. */
function stripeDirection({ edges }: OverlayMarks): Point {
  let best: readonly [number, number, number] = [0, 1, 0];
  for (const line of edges) {
    if (line.length < 2) continue;
    const [x0, y0] = line[0];
    const [x1, y1] = line[line.length - 1];
    const length = Math.hypot(x1 - x0, y1 - y0);
    if (length > best[2]) best = [(x1 - x0) / length, (y1 - y0) / length, length];
  }
  return [best[0], best[1]];
}

const overlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

/** A line with an arrow at either end and its length beside the middle. */
function dimension(
  ends: readonly Point[] | undefined,
  text: string | null,
  grain: number,
  frame: readonly [number, number],
): Plate | null {
  if (!ends || text === null) return null;
  const [a, b] = ends;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length < 1) return null;
  const along: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  // Beside the line, far enough for the plate to clear it whatever its slope.
  const reach = 0.5 * (textWidth(text, 13 * grain) + 16 * grain) * Math.abs(along[1]) + 26 * grain;
  const [nx, ny] = along[0] > 0 ? [along[1], -along[0]] : [-along[1], along[0]];
  const words = plate(
    text,
    [middle[0] + nx * reach, middle[1] + ny * reach],
    13 * grain,
    LINES.repeat.colour,
    frame,
  );
  const line = lines('repeat', arrowBothWays(ends, Math.min(14 * grain, length / 3)), 2.4 * grain);
  return { box: words.box, svg: line + words.svg };
}

/** The length between the reference's ends, beside the end that lies deeper in the photo. */
function endPlate(
  ends: readonly Point[] | undefined,
  text: string | null,
  grain: number,
  frame: readonly [number, number],
): Plate | null {
  if (!ends || text === null) return null;
  const depth = ([x, y]: Point): number => Math.min(x, frame[0] - x, y, frame[1] - y);
  const [x, y] = depth(ends[0]) >= depth(ends[1]) ? ends[0] : ends[1];
  return plate(text, [x, y + 34 * grain], 11 * grain, LINES.reference.colour, frame);
}

/** White strip with the caption and, below it, what each line means. */
function keyStrip(
  marks: OverlayMarks,
  caption: string,
  width: number,
  grain: number,
): { readonly height: number; readonly body: string } {
  const margin = 14 * grain;
  const inner = width - 2 * margin;
  const size = 12 * grain;
  const keySize = 9 * grain;
  const entries: readonly (readonly [LineKind, string])[] = [
    ['edge', 'edge of a band'],
    ...(marks.repeatOutline ? [['repeat', 'one repeat'] as const] : []),
    ...(marks.motifCell ? [['cell', 'one cell of the print'] as const] : []),
    ...(marks.intrusions.length > 0 ? [['intrusion', 'motif on a band'] as const] : []),
    ...(marks.cleanAngleDeg !== null
      ? [
          [
            'clean',
            `clean places: a seam at ${marks.cleanAngleDeg}° crosses b1 5 mm clear of motifs`,
          ] as const,
        ]
      : []),
    ...(marks.referenceOutline || marks.ends
      ? [['reference', marks.ticks.length > 0 ? 'ruler and its marks' : 'taken as known'] as const]
      : []),
    ...(marks.region ? [['region', 'part read for stripes, as given'] as const] : []),
    ...(marks.direction ? [['direction', 'direction as given'] as const] : []),
  ];
  const sample = 34 * grain;
  const widths = entries.map(([, text]) => sample + 8 * grain + textWidth(text, keySize) + 26 * grain);
  const total = widths.reduce((sum, w) => sum + w, 0);
  const shrink = Math.min(1, inner / total);
  const height = Math.ceil(68 * grain);
  const y = 51 * grain;
  let x = margin;
  let key = '';
  entries.forEach(([kind, text], k) => {
    const from = x;
    key += lines(
      kind,
      openPath([
        [from, y],
        [from + sample * shrink, y],
      ]),
      2 * grain,
      grain,
    );
    key += strokeText(text, from + (sample + 8 * grain) * shrink, y + keySize / 2, {
      size: keySize * shrink,
    });
    x += widths[k] * shrink;
  });
  const body =
    element('rect', { width, height, fill: '#ffffff' }) +
    strokeText(caption, margin, 27 * grain, { size, weight: 0.14, fitWidth: inner }) +
    key;
  return { height, body };
}
