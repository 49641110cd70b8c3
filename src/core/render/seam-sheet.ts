import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { SymmetryVerdict } from '../seam/allowed-lays.js';
import type { MismatchFigures } from '../seam/expected-mismatch.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { stripesSvg } from './half-stripes.js';
import { ALERT, INK, SOFT } from './ink.js';
import { layPicture } from './lay-picture.js';
import type { Pane } from './page.js';
import type { Sheet } from './picture-svg.js';
import { scaleBar } from './scale-bar.js';
import type { SeamFrame } from './seam-frame.js';
import { centreOutline, centrePointers, misfitMarks, referenceRing, seamLine } from './seam-marks.js';
import { strokeText, wrapText } from './stroke-text.js';
import { element, num } from './svg.js';
import { degrees, formatGiven, LAY_WORDS } from './words.js';

/** One seam of the sheet. */
export interface SheetCell {
  readonly match: SeamMatch;
  readonly expected: MismatchFigures | null;
}

/** Rows of one angle (or pair of angles), a cell for each band. */
export interface SheetContent {
  readonly title: string;
  readonly rows: readonly (readonly SheetCell[])[];
  readonly verdict: SymmetryVerdict;
  readonly unit: LengthUnit;
  readonly notes: readonly string[];
}

export interface SheetPicture extends Sheet {
  readonly panes: readonly { readonly pane: Pane; readonly match: SeamMatch }[];
}

/** Prints on A4 with 10 mm to spare on either side. */
const WIDTH_MM = 190;
const WIDTH_PX = 1600;
const PX_PER_MM = WIDTH_PX / WIDTH_MM;
/** More bands than this go to a further block below. */
const MOST_COLUMNS = 8;
const HEAD_PX = 132;
const MARGIN_PX = 44;
const GAP_PX = 16;
const CAPTION_PX = 44;
const REACH = 0.36;

/** Cap heights in mm of the sheet. */
const SIZE = { title: 3.6, text: 1.75, head: 1.9, angle: 3.4, small: 1.45 } as const;

/**
 * The contact sheet: a row for each angle, a column for each band at the reference point, and under it what
 * the cloth allows. Reads without anything beside it.
 */
export function seamSheet(content: SheetContent): SheetPicture {
  const first = content.rows[0][0].match;
  const columns = Math.min(MOST_COLUMNS, content.rows[0].length);
  const pitch = (WIDTH_PX - 2 * MARGIN_PX - HEAD_PX) / Math.max(columns, 3);
  const halfWidthPx = Math.floor((pitch - GAP_PX) / 2);
  const heightPx = Math.round(halfWidthPx / REACH);
  const parts: string[] = [];
  const panes: { pane: Pane; match: SeamMatch }[] = [];
  let y = heading(content, first, parts);
  for (let from = 0; from < content.rows[0].length; from += MOST_COLUMNS) {
    content.rows[0].slice(from, from + MOST_COLUMNS).forEach((cell, k) => {
      columnHead(cell.match, MARGIN_PX + HEAD_PX + k * pitch, y, 2 * halfWidthPx, parts);
    });
    y += 40;
    for (const row of content.rows) {
      rowHead(row[0].match, y, content.unit, parts);
      row.slice(from, from + MOST_COLUMNS).forEach((cell, k) => {
        const leftPx = Math.round(MARGIN_PX + HEAD_PX + k * pitch);
        const pxPerMm = heightPx / cell.match.request.seamMm;
        const pane = { leftPx, topPx: y, halfWidthPx, heightPx, pxPerMm };
        panes.push({ pane, match: cell.match });
        const frame = frameOf(pane, cell.match);
        parts.push(cellMarks(cell, frame, content.unit));
      });
      y += heightPx + CAPTION_PX;
    }
    y += 14;
  }
  y = footer(content, first, y, parts);
  return {
    title: content.title,
    widthMm: WIDTH_MM,
    heightMm: y / PX_PER_MM,
    widthPx: WIDTH_PX,
    heightPx: y,
    lettering: parts.join(''),
    stripes: () => panes.map(({ pane, match }) => stripesSvg(match, frameOf(pane, match))).join(''),
    panes,
  };
}

function frameOf(pane: Pane, match: SeamMatch): SeamFrame {
  const drawnMm = pane.heightPx / PX_PER_MM;
  const scale = drawnMm / match.request.seamMm;
  return {
    seamX: (pane.leftPx + pane.halfWidthPx) / PX_PER_MM,
    topY: pane.topPx / PX_PER_MM,
    halfWidthMm: pane.halfWidthPx / PX_PER_MM / scale,
    seamMm: match.request.seamMm,
    scale,
    grain: (drawnMm / 100) * 1.25,
  };
}

const mm = (px: number): number => px / PX_PER_MM;

function heading(content: SheetContent, first: SeamMatch, parts: string[]): number {
  const { request, pattern } = first;
  const x = mm(MARGIN_PX);
  const width = mm(WIDTH_PX - 2 * MARGIN_PX);
  const { unit } = content;
  const shape =
    request.lay === 'run-on'
      ? 'stripes running on'
      : request.point === 'down'
        ? 'V, point down'
        : 'V, point up';
  const slip =
    request.shiftMm === 0
      ? ''
      : ` · right half slipped ${formatGiven(request.shiftMm, unit)} across its stripes`;
  parts.push(
    strokeText(content.title, x, mm(66), { size: SIZE.title, weight: 0.15, fitWidth: width }),
    strokeText(
      `${shape} · seam ${formatGiven(request.seamMm, unit)}, bands set at the ring, ${formatGiven(request.atMm, unit)} from its top · repeat ${formatLength(pattern.repeatMm, unit)} across the stripes`,
      x,
      mm(106),
      { size: SIZE.text, colour: SOFT, fitWidth: width },
    ),
    strokeText(`right half ${LAY_WORDS[request.lay]}${slip}`, x, mm(138), {
      size: SIZE.text,
      colour: SOFT,
      fitWidth: width,
    }),
  );
  return 168;
}

function columnHead(match: SeamMatch, xPx: number, yPx: number, widthPx: number, parts: string[]): void {
  const band = match.pattern.bands[match.request.centre];
  const swatch = 24;
  parts.push(
    element('rect', {
      x: mm(xPx),
      y: mm(yPx),
      width: mm(swatch),
      height: mm(swatch),
      fill: band.srgb,
      stroke: INK,
      'stroke-width': 0.12,
    }),
    strokeText(`${band.name} ${band.id}`, mm(xPx + swatch + 9), mm(yPx + 20), {
      size: SIZE.head,
      weight: 0.15,
      fitWidth: mm(widthPx - swatch - 10),
    }),
  );
}

function rowHead(match: SeamMatch, yPx: number, unit: LengthUnit, parts: string[]): void {
  const { leftDeg, rightDeg, lay } = match.request;
  const x = mm(MARGIN_PX);
  const fitWidth = mm(HEAD_PX - 18);
  const equal = leftDeg === rightDeg;
  const lines = [
    lay === 'run-on' || match.enclosedDeg === 180 ? 'no point' : `arms ${degrees(match.enclosedDeg)}`,
    'repeat',
    ...match.repeatAlongMm.slice(0, equal ? 1 : 2).map((length) => formatLength(length, unit)),
    'along seam',
  ];
  parts.push(
    strokeText(equal ? degrees(leftDeg) : `${degrees(leftDeg)}|${degrees(rightDeg)}`, x, mm(yPx + 30), {
      size: SIZE.angle,
      weight: 0.15,
      fitWidth,
    }),
  );
  lines.forEach((line, i) => {
    parts.push(
      strokeText(line, x, mm(yPx + 64 + 26 * i + (i > 0 ? 10 : 0)), {
        size: SIZE.small,
        colour: SOFT,
        fitWidth,
      }),
    );
  });
}

function cellMarks(cell: SheetCell, frame: SeamFrame, unit: LengthUnit): string {
  const { match, expected } = cell;
  const worst = match.unmatched.reduce((most, one) => Math.max(most, one.toMm - one.fromMm), 0);
  const width = 2 * frame.halfWidthMm * frame.scale;
  const x = frame.seamX - width / 2;
  const y = frame.topY + frame.seamMm * frame.scale + 2.6;
  const says = [
    worst > 0 ? `out by up to ${formatSmall(worst, unit)}` : null,
    expected === null
      ? worst > 0
        ? null
        : 'meets; unevenness not known'
      : `uneven: 9 in 10 within ${formatSmall(expected.p90, unit)}`,
  ].filter((line): line is string => line !== null);
  return [
    centreOutline(match, frame, 0.36 * frame.grain),
    centrePointers(match, frame),
    seamLine(frame, 1.2 * frame.grain),
    misfitMarks(match, frame, null),
    referenceRing(match, frame),
    ...says.map((line, i) =>
      strokeText(line, x, y + 1.0 + 2.1 * i, {
        size: SIZE.small,
        colour: line.startsWith('out') ? ALERT : SOFT,
        weight: line.startsWith('out') ? 0.15 : 0.11,
        fitWidth: width,
      }),
    ),
  ].join('');
}

function footer(content: SheetContent, first: SeamMatch, yPx: number, parts: string[]): number {
  const left = mm(MARGIN_PX);
  const top = mm(yPx);
  const width = mm(WIDTH_PX - 2 * MARGIN_PX);
  parts.push(
    element('path', {
      d: `M${num(left)} ${num(top)}L${num(left + width)} ${num(top)}`,
      stroke: SOFT,
      'stroke-width': 0.12,
    }),
  );
  const drawing = layPicture(first, 0.42 * width, 1.15);
  parts.push(element('g', { transform: `translate(${num(left)} ${num(top + 8)})` }, drawing.svg));
  parts.push(
    strokeText('How the two halves lie on the cloth', left, top + 5.4, { size: SIZE.head, weight: 0.15 }),
  );
  const x = left + 0.42 * width + 6;
  const textWidthMm = width - 0.42 * width - 6;
  let y = top + 5.4;
  const write = (text: string, size: number, weight: number, colour: string, leading: number): void => {
    for (const line of wrapText(text, textWidthMm, size)) {
      parts.push(strokeText(line, x, y, { size, weight, colour, fitWidth: textWidthMm }));
      y += leading;
    }
  };
  write(content.verdict.sentence, SIZE.head, 0.15, INK, 3.6);
  y += 1;
  if (content.verdict.checkByEye !== null) write(content.verdict.checkByEye, SIZE.text, 0.11, INK, 3.3);
  y += 1;
  for (const note of content.notes) write(note, SIZE.text, 0.11, SOFT, 3.3);
  y += 3;
  const cellScale = (content.rows[0].length > 0 ? frameScale(content) : 1) || 1;
  parts.push(scaleBar(x, y, (0.3 * textWidthMm) / cellScale, cellScale, content.unit, 0.75));
  parts.push(
    strokeText('cloth, in every picture above', x + 0.3 * textWidthMm + 12, y + 0.8, {
      size: SIZE.small,
      colour: SOFT,
    }),
  );
  y += 5;
  parts.push(legend(x, y));
  return Math.ceil(Math.max(top + 8 + drawing.height, y + 4) * PX_PER_MM) + MARGIN_PX;
}

const frameScale = (content: SheetContent): number => {
  const columns = Math.min(MOST_COLUMNS, content.rows[0].length);
  const pitch = (WIDTH_PX - 2 * MARGIN_PX - HEAD_PX) / Math.max(columns, 3);
  const heightPx = Math.round(Math.floor((pitch - GAP_PX) / 2) / REACH);
  return mm(heightPx) / content.rows[0][0].match.request.seamMm;
};

/** What the ring and the I-shaped marks mean. */
function legend(x: number, y: number): string {
  const ring = { cx: x + 1.2, cy: y, r: 1, fill: 'none', stroke: INK, 'stroke-width': 0.35 };
  const bar = `M${num(x + 37)} ${num(y - 1.4)}l2 0m-1 0l0 2.8m-1 0l2 0`;
  return (
    element('circle', ring) +
    strokeText('the named band meets here', x + 3.6, y + 0.7, { size: SIZE.small, colour: SOFT }) +
    element('path', { d: bar, fill: 'none', stroke: ALERT, 'stroke-width': 0.4 }) +
    strokeText('colours do not meet along this stretch', x + 41, y + 0.7, { size: SIZE.small, colour: SOFT })
  );
}
