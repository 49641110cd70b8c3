import { formatLength, type LengthUnit } from '../../base/length.js';
import type { ClothBox } from '../../lay/view/cloth-on-length.js';
import type { CopyView, LengthView } from '../../lay/view/lay-view.js';
import type { Point } from '../../math/matrix3.js';
import { ALERT, INK, SOFT } from '../ink.js';
import { strokeText, textWidth } from '../stroke-text.js';
import { element, escapeXml, num, polygon } from '../svg.js';

/** A drawing in mm at true size. */
export interface LayDrawing {
  readonly svg: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Between lengths and round them, for words. */
const GAP_MM = 90;
const HEAD_MM = 130;
const FOOT_MM = 110;
/** Height of words beside the cloth: read in a picture of a few metres. */
const WORDS_MM = 26;

/** What a layer holds of one length. */
type Layer = readonly [name: string, draw: (view: LengthView, at: Place) => string];
/** Length frame to page, y down. */
type Place = (at: Point) => Point;

const LAYERS: readonly Layer[] = [
  ['cloth', clothLayer],
  ['bands', bandsLayer],
  ['flaws', flawsLayer],
  ['cutting', cuttingLayer],
  ['stitching', stitchingLayer],
  ['grain', grainLayer],
  ['labels', labelsLayer],
];

/**
 * The lengths side by side, cut ends at the bottom, right side up: one layer each for cloth, bands, flaws, cutting lines, stitching lines, grain lines and
 * labels. title: any text; unit: what lengths are written in.
 */
export function layDrawing(views: readonly LengthView[], title: string, unit: LengthUnit): LayDrawing {
  const tallest = Math.max(...views.map(shownMm));
  const heightMm = tallest + HEAD_MM + FOOT_MM;
  let left = GAP_MM;
  const places = views.map((view): Place => {
    const own = left;
    left += Math.max(view.widthMm, textWidth(headOf(view, unit), WORDS_MM)) + GAP_MM;
    return ([x, y]) => [own + x, heightMm - FOOT_MM - y];
  });
  const layers = LAYERS.map(([name, draw]) =>
    element(
      'g',
      { id: name, 'inkscape:groupmode': 'layer', 'inkscape:label': name, 'data-name': name },
      views.map((view, k) => draw(view, places[k])).join(''),
    ),
  );
  const headings = views
    .map((view, k) => {
      const [x, y] = places[k]([0, shownMm(view)]);
      const [, bottom] = places[k]([0, 0]);
      return (
        strokeText(headOf(view, unit), x, y - 40, { size: WORDS_MM, weight: 0.15 }) +
        strokeText('cut end', x, bottom + 60, { size: WORDS_MM, colour: SOFT })
      );
    })
    .join('');
  const body =
    element('rect', { width: left, height: heightMm, fill: '#ffffff' }) +
    layers.join('') +
    element('g', { id: 'headings', 'inkscape:groupmode': 'layer', 'inkscape:label': 'headings' }, headings);
  const size = `width="${num(left)}mm" height="${num(heightMm)}mm" viewBox="0 0 ${num(left)} ${num(heightMm)}"`;
  return {
    svg: `<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" ${size}><title>${escapeXml(title)}</title>${body}</svg>\n`,
    widthMm: left,
    heightMm,
  };
}

/** Much of a long length lies empty: what is drawn of it ends a little beyond the last piece. */
const BEYOND_MM = 250;
const shownMm = ({ usedMm, lengthMm }: LengthView): number => Math.min(lengthMm, usedMm + BEYOND_MM);

const headOf = (view: LengthView, unit: LengthUnit): string => {
  return `${view.id}: ${formatLength(view.usedMm, unit)} used, ${formatLength(view.leftMm, unit)} left`;
};

function clothLayer(view: LengthView, at: Place): string {
  const [x, y] = at([0, shownMm(view)]);
  return element('rect', {
    x,
    y,
    width: view.widthMm,
    height: shownMm(view),
    fill: '#f4f1e8',
    stroke: INK,
    'stroke-width': 2,
  });
}

/** Stripes are paler than they are, or lines on dark ones could not be read. */
const BAND_OPACITY = 0.5;

function bandsLayer(view: LengthView, at: Place): string {
  const shown = shownMm(view);
  const box = ({ kind, x, y, width, height, srgb }: ClothBox): string => {
    const top = Math.min(y + height, shown);
    if (top <= y) return '';
    const [left, upper] = at([x, top]);
    const opacity = kind === 'cross' ? BAND_OPACITY : 1;
    return element('rect', {
      x: left,
      y: upper,
      width,
      height: top - y,
      fill: srgb,
      ...(opacity === 1 ? {} : { 'fill-opacity': opacity }),
      ...(kind === 'motif' ? { rx: Math.min(width, top - y) / 3 } : {}),
    });
  };
  return element('g', { opacity: BAND_OPACITY }, view.cloth.map(box).join(''));
}

function flawsLayer(view: LengthView, at: Place): string {
  return view.flaws
    .map(([x, y, w, h]) => {
      const [left, top] = at([x, y + h]);
      const cross = `M${num(left)} ${num(top)}l${num(w)} ${num(h)}M${num(left + w)} ${num(top)}l${num(-w)} ${num(h)}`;
      return (
        element('rect', {
          x: left,
          y: top,
          width: w,
          height: h,
          fill: '#ffffff',
          'fill-opacity': 0.7,
          stroke: ALERT,
          'stroke-width': 3,
        }) + element('path', { d: cross, fill: 'none', stroke: ALERT, 'stroke-width': 3 })
      );
    })
    .join('');
}

const outline = (
  points: readonly Point[],
  at: Place,
  attributes: Readonly<Record<string, string | number>>,
): string => polygon(points.map(at), { fill: 'none', 'stroke-linejoin': 'round', ...attributes });

function cuttingLayer(view: LengthView, at: Place): string {
  return view.copies
    .map(({ copy, cutting }) =>
      outline(cutting, at, {
        'data-name': escapeXml(copy),
        fill: '#ffffff',
        'fill-opacity': 0.35,
        stroke: INK,
        'stroke-width': 2.4,
      }),
    )
    .join('');
}

/** Of a part, the whole piece's other lines would lie across its neighbours. */
const isWhole = ({ isPart }: CopyView): boolean => !isPart;

function stitchingLayer(view: LengthView, at: Place): string {
  return view.copies
    .filter(isWhole)
    .map(({ copy, stitching }) =>
      outline(stitching, at, {
        'data-name': escapeXml(copy),
        stroke: INK,
        'stroke-width': 1.2,
        'stroke-dasharray': '9 6',
      }),
    )
    .join('');
}

function grainLayer(view: LengthView, at: Place): string {
  return view.copies
    .filter(isWhole)
    .map(({ copy, grain }) => {
      const [[x0, y0], [x1, y1]] = [at(grain[0]), at(grain[1])];
      const length = Math.hypot(x1 - x0, y1 - y0);
      const [wayX, wayY] = [(x1 - x0) / length, (y1 - y0) / length];
      const barb = (side: number): string =>
        `M${num(x1)} ${num(y1)}L${num(x1 - 18 * wayX - side * 8 * wayY)} ${num(y1 - 18 * wayY + side * 8 * wayX)}`;
      return element('path', {
        'data-name': escapeXml(copy),
        d: `M${num(x0)} ${num(y0)}L${num(x1)} ${num(y1)}${barb(1)}${barb(-1)}`,
        fill: 'none',
        stroke: INK,
        'stroke-width': 2,
      });
    })
    .join('');
}

function labelsLayer(view: LengthView, at: Place): string {
  return view.copies.map((copy) => labelOf(copy, at)).join('');
}

function labelOf({ copy, cutting }: CopyView, at: Place): string {
  const points = cutting.map(at);
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [width, height] = [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  const [x, y] = [Math.min(...xs) + width / 2, Math.min(...ys) + height / 2];
  const size = Math.min(24, Math.max(8, Math.min(width, height) / 3));
  const words = Math.min(textWidth(copy, size), Math.max(width, height) * 0.9);
  const isUpright = height > width && textWidth(copy, size) > 0.8 * width;
  const plate = element('rect', {
    x: x - words / 2 - size / 2,
    y: y - size,
    width: words + size,
    height: 2 * size,
    fill: '#ffffff',
    'fill-opacity': 0.8,
    rx: size / 2,
  });
  const lettering = strokeText(copy, x, y + size / 2, {
    size,
    anchor: 'middle',
    weight: 0.15,
    fitWidth: words,
  });
  return element(
    'g',
    { 'data-name': escapeXml(copy), ...(isUpright ? { transform: `rotate(-90 ${num(x)} ${num(y)})` } : {}) },
    plate + lettering,
  );
}
