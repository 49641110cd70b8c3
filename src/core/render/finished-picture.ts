import type { LengthUnit } from '../base/length.js';
import { formatSmall } from '../base/length.js';
import type { HalfOnCloth } from '../model/half-on-cloth.js';
import type { CutEdgeMatch } from '../seam/seam-lengths.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { stripedShape } from './half-stripes.js';
import { ALERT, INK, SOFT } from './ink.js';
import type { Sheet } from './picture-svg.js';
import { scaleBar } from './scale-bar.js';
import { pictureFromGarment, type SeamFrame } from './seam-frame.js';
import { centreOutline, haloLine, misfitMarks, referenceRing, seamLine } from './seam-marks.js';
import type { HalfWindow } from './stripe-raster.js';
import { strokeText, wrapText } from './stroke-text.js';
import { element, num, polygon } from './svg.js';
import { formatGiven, titleOf } from './words.js';

/** One painted window of a half on a page. */
export interface PlacedWindow {
  readonly half: HalfOnCloth;
  readonly window: HalfWindow;
  readonly leftPx: number;
  readonly topPx: number;
}

export interface FinishedPicture extends Sheet {
  readonly windows: readonly PlacedWindow[];
}

const SEAM_PX = 560;
const HALF_PX = 150;

/**
 * One seam before and after sewing, true size: the halves with their allowances, the seam as it will look
 * with the allowances folded away, and what matching at the cutting line would have given instead.
 */
export function finishedPicture(
  match: SeamMatch,
  atCutEdge: SeamMatch,
  allowanceMm: number,
  figures: CutEdgeMatch,
  unit: LengthUnit,
): FinishedPicture {
  const { seamMm } = match.request;
  const pxPerMm = SEAM_PX / seamMm;
  const grain = seamMm / 100;
  const extraPx = Math.max(1, Math.round(allowanceMm * pxPerMm));
  const topPx = 176;
  const openPx = 46;
  const openWidth = 2 * (HALF_PX + extraPx) + openPx;
  const starts = [40, 40 + openWidth + 96, 40 + openWidth + 96 + 2 * HALF_PX + 96];
  const widthPx = starts[2] + 2 * HALF_PX + 60;
  const heightPx = topPx + SEAM_PX + 190;
  const frameAt = (seamPx: number): SeamFrame => ({
    seamX: seamPx / pxPerMm,
    topY: topPx / pxPerMm,
    halfWidthMm: HALF_PX / pxPerMm,
    seamMm,
    scale: 1,
    grain,
  });
  const window = (firstColumn: number, columns: number): HalfWindow => ({
    firstColumn,
    columns,
    rows: SEAM_PX,
    pxPerMm,
  });
  const leftSeam = starts[0] + HALF_PX;
  const rightSeam = leftSeam + 2 * extraPx + openPx;
  const windows: PlacedWindow[] = [
    { half: match.left, window: window(-HALF_PX, HALF_PX + extraPx), leftPx: starts[0], topPx },
    { half: match.right, window: window(-extraPx, HALF_PX + extraPx), leftPx: rightSeam - extraPx, topPx },
  ];
  for (const [one, start] of [
    [match, starts[1]],
    [atCutEdge, starts[2]],
  ] as const) {
    windows.push({ half: one.left, window: window(-HALF_PX, HALF_PX), leftPx: start, topPx });
    windows.push({ half: one.right, window: window(0, HALF_PX), leftPx: start + HALF_PX, topPx });
  }
  const small = (length: number): string => formatSmall(length, unit);
  const sewn = frameAt(starts[1] + HALF_PX);
  const missed = frameAt(starts[2] + HALF_PX);
  const runOn = match.request.lay === 'run-on';
  const missWords = runOn
    ? `the halves miss each other by ${small(figures.runOnMismatchMm)}`
    : `the point of the V ends up ${small(figures.pointsMoveMm)} higher or lower${
        figures.mirroredMismatchMm > 0.005
          ? ` and the halves miss by ${small(figures.mirroredMismatchMm)}`
          : ''
      }`;
  const under = (frame: SeamFrame, text: string, colour: string, width: number): string =>
    wrapText(text, width, 2.4 * grain)
      .map((line, i) =>
        strokeText(line, frame.seamX, frame.topY + seamMm + (8 + 4.4 * i) * grain, {
          size: 2.4 * grain,
          anchor: 'middle',
          colour,
        }),
      )
      .join('');
  const head = (xPx: number, text: string): string =>
    strokeText(text, xPx / pxPerMm, (topPx - 34) / pxPerMm, { size: 2.7 * grain, weight: 0.15 });
  const lettering = [
    strokeText(titleOf(match), 40 / pxPerMm, 58 / pxPerMm, { size: 4.4 * grain, weight: 0.15 }),
    strokeText(
      `seam allowance ${formatGiven(allowanceMm, unit)}, folded away behind the finished seam`,
      40 / pxPerMm,
      98 / pxPerMm,
      { size: 2.6 * grain, colour: SOFT },
    ),
    head(starts[0], 'Before sewing'),
    allowance(frameAt(leftSeam), allowanceMm, 1),
    allowance(frameAt(rightSeam), allowanceMm, -1),
    head(starts[1], 'Sewn, matched on the stitching line'),
    centreOutline(match, sewn),
    seamLine(sewn),
    misfitMarks(match, sewn, small),
    referenceRing(match, sewn),
    head(starts[2], 'If matched at the cutting line'),
    centreOutline(atCutEdge, missed),
    seamLine(missed),
    misfitMarks(atCutEdge, missed, null),
    moveArrow(match, atCutEdge, missed),
    referenceRing(match, missed),
    under(sewn, 'as it will look', SOFT, 70 * grain),
    under(missed, missWords, ALERT, 52 * grain),
    legend(starts[0] / pxPerMm, (topPx + SEAM_PX + 44) / pxPerMm, grain),
    scaleBar(starts[0] / pxPerMm, (topPx + SEAM_PX + 128) / pxPerMm, 0.24 * seamMm, 1, unit, grain),
  ].join('');
  return {
    title: `${titleOf(match)}: finished seam`,
    widthMm: widthPx / pxPerMm,
    heightMm: heightPx / pxPerMm,
    widthPx,
    heightPx,
    lettering,
    stripes: () => windows.map((one) => windowSvg(match, one)).join(''),
    windows,
  };
}

function windowSvg(match: SeamMatch, placed: PlacedWindow): string {
  const { firstColumn, columns, rows, pxPerMm } = placed.window;
  const from = firstColumn / pxPerMm;
  const to = (firstColumn + columns) / pxPerMm;
  const low = rows / pxPerMm;
  const shape: [number, number][] = [
    [from, 0],
    [to, 0],
    [to, low],
    [from, low],
  ];
  return stripedShape(
    match.pattern,
    placed.half,
    shape,
    (x, y) => [x - from + placed.leftPx / pxPerMm, y + placed.topPx / pxPerMm],
    match.cross,
  );
}

/** The allowance beyond a half's stitching line: veiled, its cutting line firm, its stitching line dashed. */
function allowance(frame: SeamFrame, allowanceMm: number, out: 1 | -1): string {
  const [x, top] = pictureFromGarment(frame, 0, 0);
  const bottom = top + frame.seamMm;
  const cut = x + out * allowanceMm;
  return (
    polygon(
      [
        [x, top],
        [cut, top],
        [cut, bottom],
        [x, bottom],
      ],
      { fill: '#ffffff', 'fill-opacity': 0.6 },
    ) +
    element('path', {
      d: `M${num(cut)} ${num(top)}L${num(cut)} ${num(bottom)}`,
      stroke: INK,
      'stroke-width': 0.35 * frame.grain,
    }) +
    haloLine(`M${num(x)} ${num(top)}L${num(x)} ${num(bottom)}`, 0.32 * frame.grain, INK, {
      'stroke-dasharray': `${num(1.6 * frame.grain)} ${num(1.3 * frame.grain)}`,
      'stroke-linecap': 'butt',
    })
  );
}

/** From where the band was wanted to where it went. */
function moveArrow(match: SeamMatch, moved: SeamMatch, frame: SeamFrame): string {
  const { grain } = frame;
  const [x, from] = pictureFromGarment(frame, 0, match.request.atMm);
  const to = from + (moved.request.atMm - match.request.atMm) * frame.scale;
  const way = Math.sign(to - from);
  if (Math.abs(to - from) < 3 * grain) return '';
  const barb = 1.6 * grain;
  return haloLine(
    `M${num(x)} ${num(from + way * 2 * grain)}L${num(x)} ${num(to)}M${num(x - barb)} ${num(to - way * barb)}L${num(x)} ${num(to)}L${num(x + barb)} ${num(to - way * barb)}`,
    0.45 * grain,
    ALERT,
  );
}

function legend(x: number, y: number, grain: number): string {
  const size = 2.2 * grain;
  const text = (line: number, words: string): string =>
    strokeText(words, x + 8 * grain, y + line * 4.6 * grain, { size, colour: SOFT });
  const stroke = (line: number, dash: string): string =>
    element('path', {
      d: `M${num(x)} ${num(y + line * 4.6 * grain - size / 2)}l${num(6 * grain)} 0`,
      stroke: INK,
      'stroke-width': 0.35 * grain,
      ...(dash === '' ? {} : { 'stroke-dasharray': dash }),
    });
  const dash = `${num(1.6 * grain)} ${num(1.3 * grain)}`;
  return stroke(0, dash) + text(0, 'stitching line: match here') + stroke(1, '') + text(1, 'cutting line');
}
