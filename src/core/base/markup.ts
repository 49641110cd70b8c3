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
