import { element, escapeXml, num } from '../base/markup.js';

export { element, escapeXml, num };

/** Root whose user unit is one mm at true size. body: trusted SVG. title: any text. */
export const svgInMm = (widthMm: number, heightMm: number, title: string, body: string): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${num(widthMm)}mm" height="${num(heightMm)}mm" viewBox="0 0 ${num(
    widthMm,
  )} ${num(heightMm)}"><title>${escapeXml(title)}</title>${body}</svg>\n`;

export const polygon = (
  points: readonly (readonly [number, number])[],
  attributes: Readonly<Record<string, string | number>>,
): string =>
  element('polygon', { points: points.map(([x, y]) => `${num(x)},${num(y)}`).join(' '), ...attributes });
