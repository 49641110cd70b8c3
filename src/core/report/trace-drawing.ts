import { checkAll, numberWithin, wholeNumber } from '../base/expectation.js';
import { element, escapeXml, num } from '../base/markup.js';
import type { Matrix3, Point } from '../math/matrix3.js';
import type { TracedFile, TracedPiece } from '../pipeline/trace/traced-file.js';
import { checkTraced } from './check-traced.js';

const OUTLINE = '#e6007e';
const CORNER = '#00a650';
const NOTCH = '#0072ce';
const GRAIN = '#d35400';
const SCALE = '#7b2cbf';

/**
 * What goes over the photo to show what was traced, as SVG: outlines, corners as rings, notches as strokes, grain lines as arrows, the
 * reference. A strip below says what each mark is, so that colour is never the only sign.
 *
 * @param shownPerPhoto px of the picture shown for each photo px
 */
export function traceDrawing(
  file: TracedFile,
  widthPx: number,
  heightPx: number,
  shownPerPhoto: number,
): { readonly svg: string; readonly stripHeightPx: number } {
  checkTraced(file);
  checkAll({
    widthPx: [widthPx, wholeNumber({ least: 1 })],
    heightPx: [heightPx, wholeNumber({ least: 1 })],
    shownPerPhoto: [shownPerPhoto, numberWithin({ above: 0 })],
  });
  const unit = Math.max(1, widthPx / 1000);
  const shown = lensOn(file, shownPerPhoto);
  const words = legend(file);
  const lineHeight = 24 * unit;
  const stripHeightPx = Math.round(lineHeight * (words.length + 0.6));
  const body =
    scaleMarks(file, shownPerPhoto, unit) +
    file.pieces.map((piece) => pieceMarks(piece, shown, unit)).join('') +
    words
      .map(({ text, colour, sign }, i) => {
        const y = heightPx + lineHeight * (i + 1);
        return (
          element('text', { x: 14 * unit, y, fill: colour, 'font-weight': 700 }, escapeXml(sign)) +
          element('text', { x: 44 * unit, y, fill: '#1c1c1c' }, escapeXml(text))
        );
      })
      .join('');
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${widthPx}" height="${heightPx + stripHeightPx}" fill="none" stroke-linejoin="round" stroke-linecap="round" font-family="sans-serif" font-size="${num(17 * unit)}">${body}</svg>`;
  return { svg, stripHeightPx };
}

type ToShown = (piece: TracedPiece, p: Point) => Point;

/** Piece mm to px of the picture shown, lens curvature on. */
function lensOn({ photo, plane }: TracedFile, shownPerPhoto: number): ToShown {
  const cx = photo.width_px / 2;
  const cy = photo.height_px / 2;
  return ({ traced }, p) => {
    const [x, y] = mapped(traced.to_photo, p);
    const gain = 1 + (plane.k1 * ((x - cx) ** 2 + (y - cy) ** 2)) / (cx * cx + cy * cy);
    return [(cx + (x - cx) * gain) * shownPerPhoto, (cy + (y - cy) * gain) * shownPerPhoto];
  };
}

function mapped(m: Matrix3, [x, y]: Point): Point {
  const w = m[6] * x + m[7] * y + m[8];
  return [(m[0] * x + m[1] * y + m[2]) / w, (m[3] * x + m[4] * y + m[5]) / w];
}

/** A line twice: white under the colour, so that it shows on any ground. */
const line = (d: string, colour: string, width: number, extra = {}): string =>
  element('path', { d, stroke: '#fff', 'stroke-width': 2.2 * width, 'stroke-opacity': 0.7 }) +
  element('path', { d, stroke: colour, 'stroke-width': width, ...extra });

const pathOf = (points: readonly Point[], closed: boolean): string =>
  `M${points.map(([x, y]) => `${num(x)} ${num(y)}`).join('L')}${closed ? 'Z' : ''}`;

function pieceMarks(piece: TracedPiece, shown: ToShown, unit: number): string {
  const at = (p: Point): Point => shown(piece, p);
  const outline = pathOf(piece.stitching.map(at), true);
  const notches = new Set(piece.notches ?? []);
  const points = Object.entries(piece.points).map(([id, p]) => {
    const [x, y] = at(p);
    return notches.has(id)
      ? line(
          `M${num(x - 6 * unit)} ${num(y)}h${num(12 * unit)}m${num(-6 * unit)} ${num(-6 * unit)}v${num(12 * unit)}`,
          NOTCH,
          1.6 * unit,
        )
      : element('circle', {
          cx: x,
          cy: y,
          r: 6 * unit,
          stroke: '#fff',
          'stroke-width': 3.2 * unit,
          'stroke-opacity': 0.7,
        }) + element('circle', { cx: x, cy: y, r: 6 * unit, stroke: CORNER, 'stroke-width': 1.6 * unit });
  });
  const [foot, head] = piece.grain.map(at) as [Point, Point];
  const found = piece.traced.grain_found;
  return (
    line(outline, OUTLINE, 1.4 * unit) +
    points.join('') +
    line(
      arrow(foot, head, 14 * unit),
      GRAIN,
      2 * unit,
      found ? {} : { 'stroke-dasharray': `${6 * unit} ${6 * unit}` },
    )
  );
}

function arrow(foot: Point, head: Point, size: number): string {
  const a = Math.atan2(head[1] - foot[1], head[0] - foot[0]);
  const barb = (turn: number): Point => [
    head[0] - size * Math.cos(a + turn),
    head[1] - size * Math.sin(a + turn),
  ];
  return pathOf([foot, head], false) + pathOf([barb(0.45), head, barb(-0.45)], false);
}

function scaleMarks({ scale }: TracedFile, k: number, unit: number): string {
  const { corners_px: corners, ends_px: ends } = scale as TracedFile['scale'] & {
    corners_px?: readonly Point[];
  };
  const shown = (list: readonly Point[]): Point[] => list.map(([x, y]) => [x * k, y * k]);
  if (corners)
    return line(pathOf(shown(corners), true), SCALE, 1.6 * unit, {
      'stroke-dasharray': `${8 * unit} ${5 * unit}`,
    });
  return ends
    ? line(pathOf(shown(ends), false), SCALE, 2 * unit, { 'stroke-dasharray': `${8 * unit} ${5 * unit}` })
    : '';
}

function legend({ pieces, scale, plane }: TracedFile): { sign: string; text: string; colour: string }[] {
  const corners = pieces.reduce((sum, p) => sum + Object.keys(p.points).length - (p.notches?.length ?? 0), 0);
  const notches = pieces.reduce((sum, p) => sum + (p.notches?.length ?? 0), 0);
  const drawn = pieces.filter((p) => p.traced.outline === 'drawn').length;
  const grains = pieces.filter((p) => p.traced.grain_found).length;
  const off = Math.max(...pieces.map((p) => p.traced.outline_sd_mm));
  const what =
    drawn === pieces.length
      ? 'the line drawn on the paper'
      : drawn === 0
        ? "the paper's edge"
        : 'edge or drawn line';
  const length = scale.length_mm === null ? '' : `, ${num(Math.round(scale.length_mm * 10) / 10)} mm`;
  return [
    {
      sign: '—',
      colour: OUTLINE,
      text: `outline of ${count(pieces.length, 'piece')}: ${what}, ${off < 0.1 ? 'within 0.1' : `give or take ${off.toFixed(1)}`} mm`,
    },
    { sign: 'o', colour: CORNER, text: count(corners, 'corner') },
    {
      sign: '+',
      colour: NOTCH,
      text:
        notches === 0
          ? 'no notches found'
          : `${count(notches, 'notch', 'notches')}; the outline runs straight over ${notches === 1 ? 'it' : 'them'}`,
    },
    {
      sign: '→',
      colour: GRAIN,
      text:
        grains === pieces.length
          ? 'grain line as drawn'
          : grains === 0
            ? 'no grain line found: straight up in the photo (dashed)'
            : 'grain line as drawn; dashed where none was found: straight up in the photo',
    },
    {
      sign: '- -',
      colour: SCALE,
      text: `scale from the ${scale.source}${length}; camera tilted by ${plane.tilt_deg.toFixed(1)} degrees`,
    },
  ];
}

const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
