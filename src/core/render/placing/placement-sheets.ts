import type { LengthUnit } from '../../base/length.js';
import { INK, SOFT } from '../ink.js';
import { strokeText, textWidth, wrapText } from '../stroke-text.js';
import { element, escapeXml, num } from '../svg.js';
import { type ClothTiles, defineTile, type Matrix } from './drawn-copy.js';
import { barFor, drawStanding, type StandingCopy } from './placed-drawing.js';

/** One answer ready to be drawn. */
export interface DrawnAnswer {
  readonly rank: number;
  /** Heading: "Answer 1: all wishes met". */
  readonly title: string;
  /** As the garment is worn. */
  readonly garment: readonly StandingCopy[];
  /** On the cloth: u to the right, v up. */
  readonly onCloth: readonly StandingCopy[];
  /** Of the whole garment, rounded so that they sum to 100. */
  readonly shares: readonly { readonly name: string; readonly srgb: string; readonly percent: number }[];
  /** A line for each wish: whether it is met, then the words. */
  readonly wishes: readonly { readonly met: boolean; readonly words: string }[];
}

/** What all sheets of a placement share. */
export interface SheetStyle {
  readonly unit: LengthUnit;
  /** Null: clean bands. */
  readonly tiles: ClothTiles | null;
  /** The photographed cloth as an SVG image in the cloth frame; null: clean bands. */
  readonly tilePicture: string | null;
}

/** A picture: a whole SVG, in px. */
export interface SvgSheet {
  readonly name: string;
  readonly title: string;
  readonly svg: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

const COLUMN_PX = 460;
const MARGIN_PX = 28;
const TEXT_PX = 10;
const LINE_PX = 18;

/** The answers side by side: each garment, its colours, what each wish got. */
export function answersSheet(answers: readonly DrawnAnswer[], style: SheetStyle): SvgSheet {
  const columns = Math.max(1, answers.length);
  const widthPx = columns * COLUMN_PX + MARGIN_PX;
  const noteHeights = answers.map((answer) => linesOf(answer).length * LINE_PX);
  const garmentPx = 430;
  const heightPx = 70 + garmentPx + 70 + Math.max(0, ...noteHeights) + MARGIN_PX;
  let body = '';
  answers.forEach((answer, k) => {
    const x = MARGIN_PX + k * COLUMN_PX;
    const width = COLUMN_PX - MARGIN_PX;
    body += strokeText(answer.title, x, 40, { size: 13, weight: 0.17, fitWidth: width });
    const box = { x: x + 10, y: 62, width: width - 20, height: garmentPx };
    const drawn = drawStanding(answer.garment, box, `a${answer.rank}`, {
      tiles: style.tiles,
      points: 'none',
      showsUnlike: true,
      showsName: true,
      showsGrain: false,
    });
    body += drawn.body + barFor(drawn.pxPerMm, [x, 76 + garmentPx], style.unit);
    body += sharesBar(answer, x, 92 + garmentPx, width);
    let y = 144 + garmentPx;
    for (const line of linesOf(answer)) {
      body += strokeText(line.text, x + line.indent, y, {
        size: TEXT_PX,
        colour: line.colour,
        weight: line.weight,
      });
      y += LINE_PX;
    }
  });
  return sheet('answers', 'The best answers side by side', widthPx, heightPx, body, style);
}

/** One answer's garment, large, its named points and where colours do not meet. */
export function garmentSheet(answer: DrawnAnswer, style: SheetStyle): SvgSheet {
  const [widthPx, heightPx] = [1500, 1180];
  const box = { x: 90, y: 80, width: widthPx - 180, height: heightPx - 170 };
  const drawn = drawStanding(answer.garment, box, 'g', {
    tiles: style.tiles,
    points: 'wished',
    showsUnlike: true,
    showsName: true,
    showsGrain: true,
  });
  const body =
    strokeText(answer.title, MARGIN_PX, 44, { size: 15, weight: 0.17 }) +
    drawn.body +
    barFor(drawn.pxPerMm, [MARGIN_PX, heightPx - 56], style.unit) +
    legend(MARGIN_PX, heightPx - 22);
  return sheet(`answer-${answer.rank}`, answer.title, widthPx, heightPx, body, style);
}

/** Every piece alone, as it is drawn, with its points, stripes, and the parts of its seams where the mate shows another colour. */
export function piecesSheet(answer: DrawnAnswer, asPiece: readonly Matrix[], style: SheetStyle): SvgSheet {
  const count = answer.garment.length;
  const columns = Math.min(count, Math.ceil(Math.sqrt(count * 1.3)));
  const rows = Math.ceil(count / columns);
  const cell = 430;
  const widthPx = columns * cell + MARGIN_PX;
  const heightPx = rows * cell + 100;
  let body = strokeText(`${answer.title}: each piece alone`, MARGIN_PX, 40, { size: 13, weight: 0.17 });
  answer.garment.forEach(({ copy }, k) => {
    const x = MARGIN_PX + (k % columns) * cell;
    const y = 60 + Math.floor(k / columns) * cell;
    const box = { x: x + 60, y: y + 30, width: cell - 130, height: cell - 80 };
    const drawn = drawStanding([{ copy, at: asPiece[k] }], box, `p${k}`, {
      tiles: style.tiles,
      points: 'all',
      showsUnlike: true,
      showsName: false,
      showsGrain: true,
    });
    body +=
      strokeText(copy.id, x, y + 16, { size: 12, weight: 0.17 }) +
      drawn.body +
      barFor(drawn.pxPerMm, [x, y + cell - 24], style.unit);
  });
  body += legend(MARGIN_PX, heightPx - 14);
  return sheet(`pieces-${answer.rank}`, `${answer.title}: each piece alone`, widthPx, heightPx, body, style);
}

/** The pieces where they lie on the cloth, right side up, spread along the stripes so that none hides another. */
export function clothSheet(answer: DrawnAnswer, style: SheetStyle): SvgSheet {
  const [widthPx, heightPx] = [1500, 1100];
  const box = { x: 60, y: 90, width: widthPx - 120, height: heightPx - 170 };
  const drawn = drawStanding(answer.onCloth, box, 'c', {
    tiles: style.tiles,
    points: 'none',
    showsUnlike: false,
    showsName: true,
    showsGrain: true,
  });
  const body =
    strokeText(`${answer.title}: on the cloth, right side up`, MARGIN_PX, 40, { size: 14, weight: 0.17 }) +
    strokeText(
      'Stripes run up and down. The places across the stripes count; along them pieces are spread here so that none hides another.',
      MARGIN_PX,
      64,
      { size: TEXT_PX, colour: SOFT, fitWidth: widthPx - 2 * MARGIN_PX },
    ) +
    drawn.body +
    barFor(drawn.pxPerMm, [MARGIN_PX, heightPx - 40], style.unit);
  return sheet(`cloth-${answer.rank}`, `${answer.title}: on the cloth`, widthPx, heightPx, body, style);
}

function linesOf({
  wishes,
}: DrawnAnswer): { text: string; indent: number; colour: string; weight: number }[] {
  return wishes.flatMap(({ met, words }) =>
    wrapText(words, COLUMN_PX - MARGIN_PX - 20, TEXT_PX).map((text, k) => ({
      text: k === 0 ? `${met ? '+' : '-'} ${text}` : text,
      indent: k === 0 ? 0 : 16,
      colour: INK,
      weight: met ? 0.11 : 0.17,
    })),
  );
}

/** The colours of the whole garment as a bar, each part with its percentage where there is room. */
function sharesBar({ shares }: DrawnAnswer, x: number, y: number, width: number): string {
  let at = x;
  let words = '';
  const bar = shares
    .map(({ srgb, name, percent }) => {
      const part = (width * percent) / 100;
      words += `${words === '' ? '' : ', '}${name} ${percent} %`;
      const box = element('rect', {
        x: at,
        y,
        width: part,
        height: 12,
        fill: srgb,
        stroke: INK,
        'stroke-width': 0.6,
      });
      at += part;
      return box;
    })
    .join('');
  return bar + strokeText(words, x, y + 28, { size: TEXT_PX, colour: SOFT, fitWidth: width });
}

/** What the thick lines mean. */
const legend = (x: number, y: number): string => {
  const words =
    'thick line along a seam: here the other side shows another colour. Arrow: the grain, to its head';
  return (
    element('path', {
      d: `M${num(x)} ${num(y - 4)}h34`,
      fill: 'none',
      stroke: '#c4005a',
      'stroke-width': 3,
    }) + strokeText(words, x + 44, y, { size: TEXT_PX, fitWidth: textWidth(words, TEXT_PX) })
  );
};

function sheet(
  name: string,
  title: string,
  widthPx: number,
  heightPx: number,
  body: string,
  { tiles, tilePicture }: SheetStyle,
): SvgSheet {
  const defined = tiles === null || tilePicture === null ? '' : defineTile(tiles, tilePicture);
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx}" viewBox="0 0 ${widthPx} ${heightPx}"><title>${escapeXml(title)}</title>${defined}${element(
    'rect',
    { width: widthPx, height: heightPx, fill: '#ffffff' },
  )}${body}</svg>\n`;
  return { name, title, svg, widthPx, heightPx };
}
