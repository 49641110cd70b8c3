/** Longest line on which an object or a list is kept whole. */
const LINE_LENGTH = 110;

/** JSON with small objects and lists on one line each, so that a person can read it. */
export function laidOutJson(value: unknown, indent = ''): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value);
  const line = JSON.stringify(value, null, 1).replace(/\n\s*/g, ' ');
  if (indent !== '' && line.length <= LINE_LENGTH) return line;
  const deeper = `${indent}  `;
  const parts = Array.isArray(value)
    ? value.map((item) => laidOutJson(item, deeper))
    : Object.entries(value)
        .filter(([, item]) => item !== undefined)
        .map(([key, item]) => `${JSON.stringify(key)}: ${laidOutJson(item, deeper)}`);
  const [open, close] = Array.isArray(value) ? '[]' : '{}';
  if (parts.length === 0) return open + close;
  return `${open}\n${parts.map((part) => deeper + part).join(',\n')}\n${indent}${close}`;
}
