import { element, num, svgInMm } from './svg.js';

/** A page ready to be written as PNG or SVG. mm and px describe the same page. */
export interface Sheet {
  readonly title: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** All but the stripes: SVG body, user unit 1 mm. */
  readonly lettering: string;
  /** The stripes as polygons, for the SVG; worked out only when asked for. */
  readonly stripes: () => string;
}

/** The lettering alone at the PNG's size, to be laid over the painted page. */
export const atPx = (sheet: Sheet): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${sheet.widthPx}" height="${sheet.heightPx}" viewBox="0 0 ${num(
    sheet.widthMm,
  )} ${num(sheet.heightMm)}" preserveAspectRatio="none">${sheet.lettering}</svg>`;

/** The whole page, user unit 1 mm, the stripes as vectors or from a painted page (a data URI). */
export function atTrueSize(sheet: Sheet, pageHref: string | null): string {
  const { widthMm, heightMm } = sheet;
  const under =
    pageHref === null
      ? element('rect', { width: widthMm, height: heightMm, fill: '#ffffff' }) + sheet.stripes()
      : element('image', { width: widthMm, height: heightMm, preserveAspectRatio: 'none', href: pageHref });
  return svgInMm(widthMm, heightMm, sheet.title, under + sheet.lettering);
}
