import type { LengthUnit } from '../base/length.js';
import type { SymmetryVerdict } from '../seam/allowed-lays.js';
import type { SeamMatch } from '../seam/seam-match.js';
import { ALERT, INK, SOFT } from './ink.js';
import { layPicture } from './lay-picture.js';
import { scaleBar } from './scale-bar.js';
import { strokeText, wrapText } from './stroke-text.js';
import { element, num } from './svg.js';
import { degrees } from './words.js';

/** Cap heights on the contact sheet, mm: the smallest still reads at arm's length. */
export const SHEET_SIZE = { title: 3.6, text: 1.75, head: 1.9, angle: 3.4, small: 1.45 } as const;

export interface SheetFoot {
  readonly verdict: SymmetryVerdict;
  readonly notes: readonly string[];
  readonly unit: LengthUnit;
  /** The seam whose halves are drawn lying on the cloth. */
  readonly example: SeamMatch;
  /** Sheet mm for one mm of cloth in the cells above. */
  readonly scale: number;
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  /** Beside a lone seam: narrow, so that the words stand under the drawing. */
  readonly isBeside: boolean;
}

/** Under the cells: the halves on the cloth, what the cloth allows, the scale and the marks. */
export function sheetFoot(foot: SheetFoot): { readonly svg: string; readonly bottomMm: number } {
  const { verdict, notes, unit, example, scale, leftMm, topMm, widthMm, isBeside } = foot;
  const drawing = layPicture(example, (isBeside ? 0.7 : 0.42) * widthMm, 1.15);
  const x = isBeside ? leftMm : leftMm + drawing.width + 6;
  const room = isBeside ? widthMm : widthMm - drawing.width - 6;
  const parts = [
    element('path', {
      d: `M${num(leftMm)} ${num(topMm)}L${num(leftMm + widthMm)} ${num(topMm)}`,
      stroke: SOFT,
      'stroke-width': isBeside ? 0 : 0.12,
    }),
    strokeText(`How the two halves lie on the cloth, ${anglesOf(example)}`, leftMm, topMm + 5.4, {
      size: SHEET_SIZE.head,
      weight: 0.15,
    }),
    element('g', { transform: `translate(${num(leftMm)} ${num(topMm + 8)})` }, drawing.svg),
  ];
  let y = isBeside ? topMm + 8 + drawing.height + 6 : topMm + 5.4;
  const write = (text: string, size: number, weight: number, colour: string): void => {
    for (const line of wrapText(text, room, size)) {
      parts.push(strokeText(line, x, y, { size, weight, colour, fitWidth: room }));
      y += 1.9 * size;
    }
    y += 1;
  };
  write(verdict.sentence, SHEET_SIZE.head, 0.15, INK);
  if (verdict.checkByEye !== null) write(verdict.checkByEye, SHEET_SIZE.text, 0.11, INK);
  for (const note of notes) write(note, SHEET_SIZE.text, 0.11, SOFT);
  y += 2;
  const small = { size: SHEET_SIZE.small, colour: SOFT };
  const textX = x + 7;
  parts.push(
    element('circle', { cx: x + 2, cy: y, r: 1, fill: 'none', stroke: INK, 'stroke-width': 0.35 }),
    strokeText('the named band meets the seam here', textX, y + 0.7, small),
    element('path', {
      d: `M${num(x + 1)} ${num(y + 2.6)}l2 0m-1 0l0 2.8m-1 0l2 0`,
      fill: 'none',
      stroke: ALERT,
      'stroke-width': 0.4,
    }),
    strokeText('colours do not meet along this stretch', textX, y + 4.7, small),
    strokeText('expect', x, y + 8.7, { ...small, weight: 0.15, fitWidth: 5.6 }),
    strokeText('worst edge, halves from any two repeats, 9 times in 10', textX, y + 8.7, {
      ...small,
      fitWidth: room - 7,
    }),
    scaleBar(x, y + 13, (0.3 * room) / scale, scale, unit, 0.75),
  );
  return { svg: parts.join(''), bottomMm: Math.max(topMm + 8 + drawing.height, y + 14) };
}

const anglesOf = ({ request }: SeamMatch): string =>
  request.leftDeg === request.rightDeg
    ? degrees(request.leftDeg)
    : `${degrees(request.leftDeg)} and ${degrees(request.rightDeg)}`;
