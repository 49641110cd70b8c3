/** Number for SVG: at most three decimals (0.001 mm), no trailing noughts. */
export const num = (value: number): string => String(Math.round(value * 1000) / 1000);

/** Attributes and children to one element. Attribute values are numbers or trusted words, left out when undefined; text goes through escapeXml. */
export function element(
  name: string,
  attributes: Readonly<Record<string, string | number | undefined>>,
  children = '',
): string {
  const list = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? num(value) : value}"`)
    .join('');
  return children === '' ? `<${name}${list}/>` : `<${name}${list}>${children}</${name}>`;
}

export const escapeXml = (text: string): string =>
  text.replace(
    /[&<>"]/g,
    (mark) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[mark] as string,
  );

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
