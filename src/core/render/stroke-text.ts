import { MISSING_GLYPH, STROKE_GLYPHS } from './stroke-glyphs.js';
import { element, num } from './svg.js';

/** How a line of text is set. Lengths in the picture's own unit. */
export interface TextStyle {
  /** Height of a capital. */
  readonly size: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly colour?: string;
  /** Line width as a part of the capital's height: 0.11 reads as regular, 0.17 as bold. */
  readonly weight?: number;
  /** Shrinks the text to this width if it is longer. */
  readonly fitWidth?: number;
}

const GAP = 1.35;
const CAP_HEIGHT = 7;

const glyphOf = (character: string): readonly [number, string] => STROKE_GLYPHS[character] ?? MISSING_GLYPH;

/** Letters with accents lose them rather than turn into boxes. */
const plainCharacters = (text: string): string[] => [
  ...text.normalize('NFD').replace(/[\u0300-\u036f]/g, ''),
];

/** Width of a line of text whose capitals are `size` high. */
export function textWidth(text: string, size: number): number {
  const characters = plainCharacters(text);
  if (characters.length === 0) return 0;
  const units = characters.reduce((sum, c) => sum + glyphOf(c)[0] + GAP, -GAP);
  return (units * size) / CAP_HEIGHT;
}

/** One line of text as an SVG path, its baseline at y. */
export function strokeText(text: string, x: number, y: number, style: TextStyle): string {
  const { anchor = 'start', colour = '#1c1c1c', weight = 0.11, fitWidth = Number.POSITIVE_INFINITY } = style;
  const full = textWidth(text, style.size);
  const size = full > fitWidth ? (style.size * fitWidth) / full : style.size;
  const scale = size / CAP_HEIGHT;
  const width = Math.min(full, fitWidth);
  let pen = x - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
  let d = '';
  for (const character of plainCharacters(text)) {
    const [advance, drawing] = glyphOf(character);
    d += placed(drawing, pen, y, scale);
    pen += (advance + GAP) * scale;
  }
  if (d === '') return '';
  return element('path', {
    d,
    fill: 'none',
    stroke: colour,
    'stroke-width': size * weight,
    'stroke-linecap': 'round',
    'stroke-linejoin': 'round',
  });
}

const STEP = /([MLAaE])([^MLAaE]*)/g;

function placed(drawing: string, x: number, y: number, scale: number): string {
  const at = (px: number, py: number): string => `${num(x + px * scale)} ${num(y + py * scale)}`;
  let d = '';
  for (const [, command, rest] of drawing.matchAll(STEP)) {
    const v = rest
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    if (command === 'M' || command === 'L') d += command + at(v[0], v[1]);
    else if (command === 'E') d += arc(v[0], v[1], v[2], v[3], 0, 360, 'M', at);
    else d += arc(v[0], v[1], v[2], v[3], v[4], v[5], command === 'a' ? 'M' : 'L', at);
  }
  return d;
}

/** Bezier arcs of at most 90 degrees; control length 4/3 tan(sweep/4), within 0.03 % of the radius. */
function arc(
  cx: number,
  cy: number,
  rx: number,
  ry: number,
  from: number,
  to: number,
  start: 'M' | 'L',
  at: (x: number, y: number) => string,
): string {
  const pieces = Math.ceil(Math.abs(to - from) / 90 - 1e-9);
  const step = ((to - from) / pieces) * (Math.PI / 180);
  const k = (4 / 3) * Math.tan(step / 4);
  let angle = (from * Math.PI) / 180;
  let d = start + at(cx + rx * Math.cos(angle), cy + ry * Math.sin(angle));
  for (let i = 0; i < pieces; i++) {
    const next = angle + step;
    const [c0, s0, c1, s1] = [Math.cos(angle), Math.sin(angle), Math.cos(next), Math.sin(next)];
    d += `C${at(cx + rx * (c0 - k * s0), cy + ry * (s0 + k * c0))} ${at(cx + rx * (c1 + k * s1), cy + ry * (s1 - k * c1))} ${at(cx + rx * c1, cy + ry * s1)}`;
    angle = next;
  }
  return d;
}

/** Breaks words into lines no wider than `width`; a word longer than that keeps a line of its own. */
export function wrapText(text: string, width: number, size: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size) > width) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}
