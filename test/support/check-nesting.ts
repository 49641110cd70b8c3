import { expect } from 'vitest';

/** Elements that have no end tag in HTML. */
const VOID = ['meta', 'img', 'br'];

/** Tags in order; fails where one is closed that was not open, or left open. */
export function checkNesting(html: string): void {
  const open: string[] = [];
  for (const [, slash, name, rest] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)((?:"[^"]*"|[^">])*)>/gi)) {
    if (slash) expect(open.pop(), `</${name}>`).toBe(name);
    else if (!rest.endsWith('/') && !VOID.includes(name)) open.push(name);
  }
  expect(open).toEqual([]);
}
