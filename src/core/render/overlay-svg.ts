import type { Point } from '../model/band-model.js';
import { keyStrip } from './overlay/key.js';
import { bandLabels } from './overlay/labels.js';
import { arrowBothWays, closedPaths, LINES, lines, openPath } from './overlay/lines.js';
import { MARGIN, marginMarks } from './overlay/margin.js';
import { type Plate, plate } from './overlay/plate.js';
import type { OverlayWords } from './overlay/words.js';
import type { OverlayMarks } from './overlay-marks.js';
import { textWidth } from './stroke-text.js';
import { element, num } from './svg.js';

export interface OverlayDrawing {
  /** The whole picture: the photo, a white margin round it, and the strip with the key below. px */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where the photo's top left corner lies in it, both ways. */
  readonly marginPx: number;
  /** The photo's part is transparent but for the marks. */
  readonly svg: string;
}

/**
 * The marks laid over the photo and what is written round it: every line dark with a white casing, so that it shows on any cloth.
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
  const referencePlate = endPlate(marks, words.reference, shown, grain, frame);
  const originPlate = originMark(marks.origin, words.originOffset, shown, grain, frame);
  const taken = [repeatPlate, referencePlate, originPlate].flatMap((one) => (one ? [one.box] : []));
  const body = [
    lines('edge', edges.map(openPath), edgeWidth),
    referenceMarks(marks, shown, grain),
    marks.repeatOutline
      ? lines('repeat', `${openPath(marks.repeatOutline.map(shown))}Z`, 1.7 * grain, grain)
      : '',
    givenMarks(marks, shown, grain),
    lines('zero', marks.zeroLine ? openPath(marks.zeroLine.map(shown)) : '', 1.5 * grain, grain),
    lines('intrusion', closedPaths(marks.intrusions, shown), 0.6 * grain),
    lines(
      'clean',
      marks.cleanPlaces.map((line) => openPath(line.map(shown))),
      1.6 * grain,
    ),
    lines('cell', closedPaths(marks.motifCell ? [marks.motifCell] : [], shown), 1.7 * grain, grain),
    bandLabels(marks, shown, frame, grain, taken),
    repeatPlate?.svg ?? '',
    referencePlate?.svg ?? '',
    originPlate?.svg ?? '',
  ].join('');
  const margin = Math.round(MARGIN * grain);
  const fullWidth = widthPx + 2 * margin;
  const strip = keyStrip(marks, words, fullWidth, grain);
  const photoBottom = photoHeightPx + 2 * margin;
  const clip = element(
    'clipPath',
    { id: 'photo' },
    element('rect', { width: widthPx, height: photoHeightPx }),
  );
  const svg = element(
    'svg',
    { xmlns: 'http://www.w3.org/2000/svg', width: fullWidth, height: photoBottom + strip.height },
    clip +
      element(
        'g',
        { transform: `translate(${margin} ${margin})` },
        element('g', { 'clip-path': 'url(#photo)' }, body) +
          marginMarks(marks, words.unit, shown, frame, grain),
      ) +
      element('g', { transform: `translate(0 ${photoBottom})` }, strip.body),
  );
  return { widthPx: fullWidth, heightPx: photoBottom + strip.height, marginPx: margin, svg };
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

/** A ring with a cross through it. */
const target = ([x, y]: Point, r: number): string =>
  `M${num(x - r)} ${num(y)}a${num(r)} ${num(r)} 0 1 0 ${num(2 * r)} 0a${num(r)} ${num(r)} 0 1 0 ${num(-2 * r)} 0` +
  `M${num(x - 1.7 * r)} ${num(y)}H${num(x + 1.7 * r)}M${num(x)} ${num(y - 1.7 * r)}V${num(y + 1.7 * r)}`;

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

/** From the landmark along the stripes to the zero line, with its length. */
function originMark(
  origin: OverlayMarks['origin'],
  text: string | null,
  shown: (p: Point) => Point,
  grain: number,
  frame: readonly [number, number],
): Plate | null {
  if (origin === null || text === null) return null;
  const ends = [origin.at, origin.onZeroLine].map(shown);
  const [a, b] = ends;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const { colour } = LINES.zero;
  // Beside the arrow, however short, on the side where there is more of the photo.
  const size = 9 * grain;
  const [nx, ny] = [Math.abs(b[1] - a[1]) / length, Math.abs(b[0] - a[0]) / length];
  const reach = 0.5 * (textWidth(text, size) + 1.2 * size) * nx + size * ny + 9 * grain;
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const at: Point = [
    x + (x < frame[0] / 2 ? reach : -reach) * nx,
    y + (y < frame[1] / 2 ? reach : -reach) * ny,
  ];
  const words = plate(text, at, size, colour, frame);
  const arrow = lines('zero', arrowBothWays(ends, Math.min(12 * grain, length / 3)), 1.8 * grain);
  return { box: words.box, svg: arrow + lines('zero', target(a, 9 * grain), 1.8 * grain) + words.svg };
}

/** The length between the reference's ends, beside the end from which 0 is not measured, else the one that lies deeper in the photo. */
function endPlate(
  { ends, origin }: OverlayMarks,
  text: string | null,
  shown: (p: Point) => Point,
  grain: number,
  frame: readonly [number, number],
): Plate | null {
  if (!ends || text === null) return null;
  const isOrigin = ([x, y]: Point): boolean =>
    origin !== null && Math.hypot(x - origin.at[0], y - origin.at[1]) < 1;
  const depth = (end: Point): number => {
    const [x, y] = shown(end);
    return isOrigin(end) ? -1 : Math.min(x, frame[0] - x, y, frame[1] - y);
  };
  const [x, y] = shown(depth(ends[0]) >= depth(ends[1]) ? ends[0] : ends[1]);
  return plate(text, [x, y + 34 * grain], 11 * grain, LINES.reference.colour, frame);
}
