import { formatLength, formatSmall, type LengthUnit } from '../base/length.js';
import type { SymmetryVerdict } from '../seam/allowed-lays.js';
import type { WorstFigures } from '../seam/expect/seam-expectation.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { stripesSvg } from './half-stripes.js';
import { ALERT, INK, SOFT } from './ink.js';
import type { Pane } from './page.js';
import type { Sheet } from './picture-svg.js';
import type { SeamFrame } from './seam-frame.js';
import { centreOutline, misfitMarks, referenceRing, seamLine } from './seam-marks.js';
import { SHEET_SIZE as SIZE, sheetFoot } from './sheet-foot.js';
import { strokeText } from './stroke-text.js';
import { element } from './svg.js';
import { degrees, expectWords, formatGiven, layWords, longestMisfitMm } from './words.js';

/** One seam of the sheet. */
export interface SheetCell {
  readonly match: SeamMatch;
  readonly expected: WorstFigures | null;
  /** The lay is against the rule. */
  readonly forced: boolean;
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
const LINE_PX = 20;
const REACH = 0.36;

/**
 * The contact sheet: a row for each angle, a column for each band at the reference point, and under it what
 * the cloth allows. Reads without anything beside it.
 */
export function seamSheet(content: SheetContent): SheetPicture {
  const first = content.rows[0][0].match;
  const grid = gridOf(content.rows);
  const { columns, pitch, leftPx: gridLeftPx } = grid;
  const halfWidthPx = Math.floor((pitch - GAP_PX) / 2);
  const heightPx = Math.round(halfWidthPx / REACH);
  const parts: string[] = [];
  const panes: { pane: Pane; match: SeamMatch }[] = [];
  const captionLines = Math.max(
    1,
    ...content.rows.flat().map((cell) => cellWords(cell, content.unit).length),
  );
  let y = heading(content, first, parts);
  const topOfCells = y;
  const cellX = (k: number): number => gridLeftPx + k * pitch;
  for (const block of grid.blocks) {
    block[0].forEach((cell, k) => {
      if (!grid.isFlow) columnHead(cell.match, null, cellX(k), y, 2 * halfWidthPx, parts);
    });
    if (!grid.isFlow) y += 40;
    for (const row of block) {
      if (grid.isFlow) {
        row.forEach((cell, k) => {
          columnHead(cell.match, content.unit, cellX(k), y, 2 * halfWidthPx, parts);
        });
        y += 64;
      } else rowHead(row[0].match, y, content.unit, parts);
      row.forEach((cell, k) => {
        const leftPx = Math.round(cellX(k));
        const pxPerMm = heightPx / cell.match.request.seamMm;
        const pane = { leftPx, topPx: y, halfWidthPx, heightPx, pxPerMm };
        panes.push({ pane, match: cell.match });
        const frame = frameOf(pane, cell.match);
        parts.push(cellMarks(cell, frame, content.unit));
      });
      y += heightPx + CAPTION_PX + LINE_PX * (captionLines - 1);
    }
    y += 14;
  }
  // Beside a lone seam there is room for the rest.
  const isBeside = columns === 1;
  const footLeftPx = isBeside ? MARGIN_PX + pitch + 2 * GAP_PX : MARGIN_PX;
  const foot = sheetFoot({
    verdict: content.verdict,
    notes: content.notes,
    unit: content.unit,
    example: content.rows[Math.floor((content.rows.length - 1) / 2)][0].match,
    scale: heightPx / PX_PER_MM / first.request.seamMm,
    leftMm: mm(footLeftPx),
    topMm: mm(isBeside ? topOfCells : y),
    widthMm: mm(WIDTH_PX - MARGIN_PX - footLeftPx),
    isBeside,
  });
  parts.push(foot.svg);
  y = Math.max(isBeside ? y : 0, Math.ceil(foot.bottomMm * PX_PER_MM)) + MARGIN_PX;
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

/** How cells are laid out, in px. */
interface Grid {
  readonly columns: number;
  readonly pitch: number;
  readonly leftPx: number;
  /** Cells run on from one to the next, each with its angle, where a column for each band would leave most of the page empty. */
  readonly isFlow: boolean;
  /** Blocks one below the other, each of rows. */
  readonly blocks: readonly (readonly (readonly SheetCell[])[])[];
}

/** Fewer bands than this leave most of the page's width empty. */
const FEW_BANDS = 3;
const MOST_IN_FLOW = 4;

function gridOf(rows: SheetContent['rows']): Grid {
  const width = WIDTH_PX - 2 * MARGIN_PX;
  const bands = rows[0].length;
  if (bands >= FEW_BANDS) {
    const columns = Math.min(MOST_COLUMNS, bands);
    const blocks = Array.from({ length: Math.ceil(bands / columns) }, (_, k) =>
      rows.map((row) => row.slice(k * columns, (k + 1) * columns)),
    );
    const leftPx = MARGIN_PX + HEAD_PX;
    return { columns, pitch: (width - HEAD_PX) / columns, leftPx, isFlow: false, blocks };
  }
  const cells = rows.flat();
  const columns = Math.ceil(cells.length / Math.ceil(cells.length / MOST_IN_FLOW));
  const lines = Array.from({ length: Math.ceil(cells.length / columns) }, (_, k) =>
    cells.slice(k * columns, (k + 1) * columns),
  );
  // A lone seam takes a third, the words beside it the rest.
  const pitch = width / (columns === 1 ? 3 : columns);
  return { columns, pitch, leftPx: MARGIN_PX, isFlow: true, blocks: [lines] };
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
      `${shape} · seam ${formatGiven(request.seamMm, unit)}, bands set at the ringed point, ${formatGiven(request.atMm, unit)} from its top · repeat ${formatLength(pattern.repeatMm, unit)} across the stripes`,
      x,
      mm(106),
      { size: SIZE.text, colour: SOFT, fitWidth: width },
    ),
    strokeText(`right half ${layWords(request)}${slip}`, x, mm(138), {
      size: SIZE.text,
      colour: SOFT,
      fitWidth: width,
    }),
  );
  return 168;
}

/** The band's name; with a unit its seam's angle and repeat as well, on a second line. */
function columnHead(
  match: SeamMatch,
  unit: LengthUnit | null,
  xPx: number,
  yPx: number,
  widthPx: number,
  parts: string[],
): void {
  const { leftDeg, rightDeg, centre } = match.request;
  const band = match.pattern.bands[centre];
  const swatch = 24;
  const angle = leftDeg === rightDeg ? degrees(leftDeg) : `${degrees(leftDeg)}|${degrees(rightDeg)}`;
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
    strokeText(
      `${unit === null ? '' : `${angle}  `}${band.name} ${band.id}`,
      mm(xPx + swatch + 9),
      mm(yPx + 20),
      { size: SIZE.head, weight: 0.15, fitWidth: mm(widthPx - swatch - 10) },
    ),
  );
  if (unit === null) return;
  const lengths = match.repeatAlongMm.slice(0, leftDeg === rightDeg ? 1 : 2);
  parts.push(
    strokeText(
      `repeat ${lengths.map((one) => formatLength(one, unit)).join(' and ')} along the seam`,
      mm(xPx),
      mm(yPx + 50),
      { size: SIZE.small, colour: SOFT, fitWidth: mm(widthPx) },
    ),
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

/** One or two lines under a cell. */
function cellWords({ match, expected, forced }: SheetCell, unit: LengthUnit): string[] {
  const longest = longestMisfitMm(match);
  const lines = longest > 0 ? [`out along ${formatSmall(longest, unit)}`] : [];
  if (forced || match.request.leftDeg !== match.request.rightDeg) return lines;
  if (expected !== null) return [...lines, expectWords(expected, unit)];
  return longest > 0 ? lines : ['meets; unevenness not known'];
}

function cellMarks(cell: SheetCell, frame: SeamFrame, unit: LengthUnit): string {
  const { match } = cell;
  const width = 2 * frame.halfWidthMm * frame.scale;
  const x = frame.seamX - width / 2;
  const y = frame.topY + frame.seamMm * frame.scale + 2.6;
  const says = cellWords(cell, unit);
  return [
    centreOutline(match, frame, 0.38 * frame.grain),
    seamLine(frame, 1.2 * frame.grain),
    misfitMarks(match, frame, null),
    referenceRing(match, frame),
    ...says.map((line, i) =>
      strokeText(line, x, y + 1.0 + (LINE_PX / PX_PER_MM) * i, {
        size: SIZE.small,
        colour: line.startsWith('out') ? ALERT : SOFT,
        weight: line.startsWith('out') ? 0.15 : 0.11,
        fitWidth: width,
      }),
    ),
  ].join('');
}
