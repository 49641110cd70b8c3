import { formatTapeLength, type LengthUnit } from '../../base/length.js';
import type { PieceView } from '../../pieces/view/piece-view.js';
import { INK, SOFT } from '../ink.js';
import { strokeText, textWidth, wrapText } from '../stroke-text.js';
import { element, num, svgInMm } from '../svg.js';
import { FreePlaces } from './free-places.js';
import { HAND_LENGTH_MM, HAND_MM, handDrawing } from './hand.js';
import { type DrawnAt, type DrawnPieceMarks, pieceDrawing } from './piece-drawing.js';

const TITLE = 4;
const TEXT = 2.4;
/** Line under line. */
export const LINE_MM = 1.75 * TEXT;
/** The bar that shows a wrong unit, mm. */
const BAR_MM = 100;
const FOOT = 12;

/** Room for the title and for the bar and the hand, page mm, where a page mm is so many mm of cloth. */
export const headRoomMm = (scale: number): number => Math.max(HAND_LENGTH_MM * scale + 10, 24);
export const MARGIN_MM = 8;
/** Lines under each piece: name, size, copies, allowance, what had no room in the drawing. */
export const LINES_UNDER = 9;
export const LEAST_WIDTH_MM = 62;

export interface PiecesSheet {
  readonly title: string;
  readonly views: readonly PieceView[];
  /** Where each lies on the page, in the same order, and how wide a place it has. */
  readonly places: readonly (DrawnAt & {
    readonly leftMm: number;
    readonly bottomMm: number;
    readonly roomMm: number;
  })[];
  readonly scale: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly unit: LengthUnit;
  readonly notes: readonly string[];
}

/** One picture of pieces as they were understood, at one scale, with a bar of 100 mm and a hand; user unit 1 mm of the page. */
export function piecesSheetSvg(sheet: PiecesSheet): string {
  const { title, widthMm, heightMm, views, places, unit } = sheet;
  const parts = [
    element('rect', { width: widthMm, height: heightMm, fill: '#ffffff' }),
    head(sheet),
    ...views.map((view, i) => {
      const { leftMm, bottomMm, roomMm } = places[i];
      const free = new FreePlaces({
        left: leftMm - MARGIN_MM,
        right: Math.min(widthMm, leftMm + roomMm + MARGIN_MM),
        top: 0,
        bottom: bottomMm + 1,
      });
      const drawn = pieceDrawing(view, places[i], `p${i + 1}`, unit, free);
      return drawn.svg + wordsUnder(view, drawn, places[i], unit);
    }),
    foot(sheet),
  ];
  return svgInMm(widthMm, heightMm, title, parts.join('\n'));
}

/** Title, and what shows whether the unit is right. */
function head({ title, views, scale, widthMm, unit, notes }: PiecesSheet): string {
  const bar = BAR_MM * scale;
  const hand = HAND_MM * scale;
  const y = MARGIN_MM + HAND_LENGTH_MM * scale;
  const handLeft = widthMm - MARGIN_MM - 1.35 * hand;
  const barWords = `100 mm${unit === 'mm' ? '' : ` (${formatTapeLength(BAR_MM, unit)})`}`;
  const handWords = 'a hand';
  const barRight = handLeft - Math.max(4, textWidth(handWords, TEXT) / 2);
  const barLeft = barRight - Math.max(bar, textWidth(barWords, TEXT));
  const count = `${views.length} ${views.length === 1 ? 'piece' : 'pieces'}, ${views.reduce((sum, { piece }) => sum + piece.copies.length, 0)} to cut`;
  const room = barLeft - 2 * MARGIN_MM;
  let line = MARGIN_MM + TITLE + 2 * LINE_MM;
  const told = notes
    .flatMap((note) => wrapText(`Note: ${note}`, room, TEXT))
    .map((words) => {
      const text = strokeText(words, MARGIN_MM, line, { size: TEXT, weight: 0.15 });
      line += LINE_MM;
      return text;
    });
  return [
    strokeText(title, MARGIN_MM, MARGIN_MM + TITLE, { size: TITLE, weight: 0.15, fitWidth: room }),
    strokeText(
      `${count}. Bar and hand are drawn at the scale of the pieces.`,
      MARGIN_MM,
      MARGIN_MM + TITLE + LINE_MM,
      { size: TEXT, colour: SOFT, fitWidth: room },
    ),
    ...told,
    element('rect', {
      x: barLeft,
      y: y - 1.2,
      width: bar / 2,
      height: 1.2,
      fill: INK,
      stroke: INK,
      'stroke-width': 0.2,
    }),
    element('rect', {
      x: barLeft + bar / 2,
      y: y - 1.2,
      width: bar / 2,
      height: 1.2,
      fill: '#ffffff',
      stroke: INK,
      'stroke-width': 0.2,
    }),
    strokeText(barWords, barLeft, y - 2.4, { size: TEXT }),
    handDrawing(handLeft, MARGIN_MM - 4, scale),
    strokeText(handWords, handLeft + (1.35 * hand) / 2, y, { size: TEXT, anchor: 'middle', colour: SOFT }),
  ].join('');
}

function wordsUnder(
  { piece, widthMm, heightMm }: PieceView,
  { seamsLeft, pointsLeft }: DrawnPieceMarks,
  { leftMm, bottomMm, roomMm }: PiecesSheet['places'][number],
  unit: LengthUnit,
): string {
  const size = `${formatTapeLength(widthMm, unit)} across, ${formatTapeLength(heightMm, unit)} up${piece.fold === null ? '' : ', unfolded'}`;
  const copies = piece.copies.map((copy) => (copy.mirrored ? `${copy.id} (mirrored)` : copy.id)).join(', ');
  const lines: (readonly [string, number])[] = [
    [piece.name === piece.id ? piece.name : `${piece.name} (${piece.id})`, 0.16],
    [size, 0.11],
    [`cut ${piece.copies.length}: ${copies}`, 0.11],
    [allowanceWords(piece, unit), 0.11],
    ...(seamsLeft.length === 0
      ? []
      : [[`also the ${seamsLeft.length === 1 ? 'seam' : 'seams'} ${seamsLeft.join(', ')}`, 0.11] as const]),
    ...(pointsLeft.length === 0
      ? []
      : [
          [
            `also the ${pointsLeft.length === 1 ? 'point' : 'points'} ${pointsLeft.join(', ')}`,
            0.11,
          ] as const,
        ]),
  ];
  let y = bottomMm + LINE_MM;
  const written: string[] = [];
  for (const [words, weight] of lines) {
    for (const line of wrapText(words, roomMm, TEXT)) {
      written.push(strokeText(line, leftMm, y, { size: TEXT, weight, fitWidth: roomMm }));
      y += LINE_MM;
    }
  }
  return written.join('');
}

function allowanceWords({ cutting, allowance_mm }: PieceView['piece'], unit: LengthUnit): string {
  if (cutting !== null) return 'cutting line as drawn';
  return allowance_mm === null || allowance_mm === 0
    ? 'no seam allowance'
    : `seam allowance ${formatTapeLength(allowance_mm, unit)}`;
}

/** What the lines mean, each shown as it is drawn. */
function foot({ widthMm, heightMm }: PiecesSheet): string {
  const y = heightMm - FOOT / 2;
  const key: (readonly [string, string])[] = [
    ['cutting line', element('path', { d: 'M0 0h8', stroke: INK, 'stroke-width': 0.45 })],
    [
      'stitching line',
      element('path', { d: 'M0 0h8', stroke: INK, 'stroke-width': 0.25, 'stroke-dasharray': '1.5 0.8' }),
    ],
    [
      'seam, from its start',
      element('path', { d: 'M0 0h8', stroke: '#1f4e9c', 'stroke-opacity': 0.55, 'stroke-width': 0.55 }) +
        element('path', { d: 'M0.9 -0.55L2.2 0L0.9 0.55z', fill: '#1f4e9c' }),
    ],
    ['notch', element('path', { d: 'M4 -1.4v2.8', stroke: INK, 'stroke-width': 0.6 })],
    [
      'point',
      element('circle', { cx: 4, cy: 0, r: 0.6, fill: '#ffffff', stroke: INK, 'stroke-width': 0.25 }),
    ],
    ['stripes run so', element('path', { d: 'M0 -0.9h8M0 0.9h8', stroke: '#c9c2a5', 'stroke-width': 0.9 })],
  ];
  let x = MARGIN_MM;
  const scale = Math.min(
    1,
    (widthMm - 2 * MARGIN_MM) / key.reduce((sum, [words]) => sum + 16 + textWidth(words, TEXT), 0),
  );
  const parts = key.map(([words, mark]) => {
    const part = element(
      'g',
      { transform: `translate(${num(x)} ${num(y)}) scale(${scale})` },
      mark + strokeText(words, 9.5, TEXT / 2, { size: TEXT }),
    );
    x += scale * (16 + textWidth(words, TEXT));
    return part;
  });
  return parts.join('');
}
