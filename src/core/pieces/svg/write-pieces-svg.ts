import { element, escapeXml, num } from '../../base/markup.js';
import type { Point } from '../../math/matrix3.js';
import { nearestPlace, pointAlong } from '../geometry/along-outline.js';
import { distanceMm } from '../geometry/outline.js';
import { seamLine } from '../geometry/whole-piece.js';
import { checkPiecesFile } from '../piece/check-pieces-file.js';
import { factLines } from '../piece/facts-text.js';
import type { Piece, PiecesFile } from '../piece/pieces-file.js';
import { layOutPage, type PlacedPiece } from './page-layout.js';

/** Height of the writing, mm: read at arm's length on paper. */
const TEXT_MM = 6;
const LINE_MM = 1.4 * TEXT_MM;
const INK = '#1c1c1c';

/**
 * Pieces as a drawing in mm that drawing programs open and that is read again by readPiecesSvg to 0.001 mm: one group for each piece,
 * its lines and points named as DEVELOPERS.md says, what lines cannot say written under it. The pieces lie side by side; data-origin
 * keeps where on the page a piece's own (0, 0) is.
 */
export function writePiecesSvg(file: PiecesFile): string {
  checkPiecesFile(file);
  const most = Math.max(...file.pieces.map((piece) => factLines(piece).length));
  const page = layOutPage(file.pieces, { headMm: 0, footMm: 2 * LINE_MM, underMm: (most + 1) * LINE_MM });
  const ids = uniqueIds();
  const body =
    marker() +
    page.placed.map((placed) => pieceGroup(placed, ids)).join('') +
    testBar(page.heightMm - 1.5 * LINE_MM);
  const size = `width="${page.widthMm}mm" height="${page.heightMm}mm" viewBox="0 0 ${page.widthMm} ${page.heightMm}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape" ${size} fill="none" stroke-linejoin="round" font-family="sans-serif" font-size="${TEXT_MM}"><title>Pattern pieces, true size</title>${body}</svg>\n`;
}

const marker = (): string =>
  element(
    'defs',
    {},
    element(
      'marker',
      {
        id: 'arrow-head',
        viewBox: '0 0 10 10',
        refX: 9,
        refY: 5,
        markerWidth: 9,
        markerHeight: 9,
        orient: 'auto',
      },
      element('path', { d: 'M0 1.5L10 5L0 8.5z', fill: INK }),
    ),
  );

function pieceGroup(placed: PlacedPiece, uniqueId: (wanted: string) => string): string {
  const { piece, cutting, originX, originY, extent } = placed;
  const onPage = ([x, y]: Point): Point => [originX + x, originY - y];
  const named = (role: string, name: string | null, extra: Readonly<Record<string, string>> = {}) => ({
    id: uniqueId(`${piece.id}-${role}${name === null ? '' : `-${name}`}`),
    'inkscape:label': escapeXml(name === null ? role : `${role} ${name}`),
    'data-role': role,
    ...(name === null ? {} : { 'data-name': escapeXml(name) }),
    ...extra,
  });
  const path = (line: readonly Point[], closed: boolean): string =>
    `M${line.map((p) => onPage(p).map(num).join(' ')).join('L')}${closed ? 'Z' : ''}`;

  const parts = [
    piece.cutting !== null
      ? element('path', {
          ...named('cutting', null),
          d: path(piece.cutting, true),
          stroke: INK,
          'stroke-width': 0.6,
        })
      : piece.allowance_mm === null
        ? ''
        : element('path', {
            'data-role': 'from-allowance',
            d: path(cutting, true),
            stroke: '#8a8a8a',
            'stroke-width': 0.4,
          }),
    element('path', {
      ...named('stitching', null),
      d: path(piece.stitching, true),
      stroke: INK,
      'stroke-width': 0.6,
      'stroke-dasharray': '4 2',
    }),
    ...piece.seams.map((seam) =>
      element('path', {
        ...named(seam.id === piece.fold ? 'fold' : 'seam', seam.id, {
          'data-from': escapeXml(seam.from),
          'data-to': escapeXml(seam.to),
        }),
        d: path(seamLine(piece, seam.id), false),
        stroke: seam.id === piece.fold ? '#b02a6b' : '#1f5fb0',
        'stroke-opacity': 0.45,
        'stroke-width': 1.6,
      }),
    ),
    element('path', {
      ...named('grain', null),
      d: path(piece.grain, false),
      stroke: INK,
      'stroke-width': 0.6,
      'marker-end': 'url(#arrow-head)',
    }),
    ...Object.entries(piece.points).map(([id, at]) => pointMark(piece, id, onPage(at), named)),
  ];
  const labels = piece.seams.map((seam) => seamLabel(piece, seam.id, onPage));
  const [textX, textY] = onPage([extent.left, extent.bottom]);
  const words = [`piece ${piece.id}`, ...factLines(piece)].map((line, i) =>
    text(line, textX, textY + (i + 1) * LINE_MM, 'start'),
  );
  return element(
    'g',
    {
      id: uniqueId(`piece-${piece.id}`),
      'inkscape:groupmode': 'layer',
      'inkscape:label': escapeXml(`piece ${piece.id}`),
      'data-role': 'piece',
      'data-name': escapeXml(piece.id),
      'data-origin': `${num(originX)} ${num(originY)}`,
    },
    [...parts, ...labels, ...words].join('\n'),
  );
}

type Named = (role: string, name: string | null) => Readonly<Record<string, string>>;

/** A small ring; a notch is a stroke across the line. The middle of either is the place. */
function pointMark(piece: Piece, id: string, [x, y]: Point, named: Named): string {
  if (!(piece.notches ?? []).includes(id)) {
    return element('circle', {
      ...named('point', id),
      cx: x,
      cy: y,
      r: 1.5,
      stroke: INK,
      'stroke-width': 0.4,
    });
  }
  const { edge } = nearestPlace(piece.stitching, piece.points[id]);
  const a = piece.stitching[edge];
  const b = piece.stitching[(edge + 1) % piece.stitching.length];
  const length = distanceMm(a, b);
  // Square to the edge; the page's y runs down.
  const [dx, dy] = [(-(b[1] - a[1]) / length) * 4, (-(b[0] - a[0]) / length) * 4];
  const d = `M${num(x - dx)} ${num(y - dy)}L${num(x + dx)} ${num(y + dy)}`;
  return element('path', { ...named('notch', id), d, stroke: INK, 'stroke-width': 0.8 });
}

function seamLabel(piece: Piece, id: string, onPage: (p: Point) => Point): string {
  const [x, y] = onPage(pointAlong(seamLine(piece, id), 0.5));
  return text(id, x, y + TEXT_MM / 3, 'middle', { 'data-role': 'label' });
}

const text = (words: string, x: number, y: number, anchor: string, extra = {}): string =>
  element('text', { ...extra, x, y, 'text-anchor': anchor, fill: INK }, escapeXml(words));

/** To be measured after printing. */
const testBar = (y: number): string =>
  element('path', { d: `M20 ${num(y)}h100m-100 -2v4m100 -4v4`, stroke: INK, 'stroke-width': 0.5 }) +
  text('100 mm: measure this after printing', 124, y + 2, 'start');

/** Ids for XML: letters, digits, full stops, dashes; each given once. */
function uniqueIds(): (wanted: string) => string {
  const given = new Set<string>(['arrow-head']);
  return (wanted) => {
    const plain = wanted.replace(/[^A-Za-z0-9.-]+/g, '_').replace(/^(?![A-Za-z_])/, '_');
    let id = plain;
    for (let k = 2; given.has(id); k++) id = `${plain}-${k}`;
    given.add(id);
    return id;
  };
}
