import { linearFromRgb8, rgb8FromHex } from '../colour/srgb.js';
import { escapeXml } from './svg.js';

/** One part of a strip: a band of the repeat or a colour's share. */
export interface StripPart {
  readonly label: string;
  /** Written where the label does not fit. */
  readonly shortLabel?: string;
  readonly srgb: string;
  /** In any unit; the strip is filled in proportion. */
  readonly size: number;
}

const WIDTH = 1000;
const HEIGHT = 110;
const LETTER = 24;

/** A labelled bar as inline SVG, parts from left to right. description: what a reader who cannot see it is told. */
export function stripSvg(parts: readonly StripPart[], description: string): string {
  const total = parts.reduce((sum, part) => sum + part.size, 0);
  let x = 0;
  const bars = parts.map((part) => {
    const width = (WIDTH * part.size) / total;
    const middle = x + width / 2;
    const label = [part.label, part.shortLabel ?? ''].find((text) => fits(text, width)) ?? '';
    const bar =
      `<rect x="${x.toFixed(2)}" width="${width.toFixed(2)}" height="${HEIGHT}" fill="${part.srgb}"/>` +
      (label === ''
        ? ''
        : `<text x="${middle.toFixed(1)}" y="${HEIGHT / 2 + LETTER / 3}" text-anchor="middle" font-size="${LETTER}" font-family="sans-serif" fill="${letterColour(part.srgb)}">${escapeXml(label)}</text>`);
    x += width;
    return bar;
  });
  return `<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" width="${WIDTH}" height="${HEIGHT}" role="img" aria-label="${escapeXml(description)}">${bars.join('')}</svg>`;
}

/** A letter takes about 0.62 of its height; what does not fit is left to the table below. */
const fits = (text: string, width: number): boolean => text.length * LETTER * 0.62 + 8 <= width;

/** Black or white, whichever stands out more (WCAG 2.2 contrast ratio). */
function letterColour(srgb: string): string {
  const [r, g, b] = linearFromRgb8(rgb8FromHex(srgb));
  const luminance = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return (luminance + 0.05) / 0.05 > 1.05 / (luminance + 0.05) ? '#000000' : '#ffffff';
}
