const startOf = (name: string): string => `<!-- figures: ${name} (written by scripts/refresh-readme) -->`;
const END = '<!-- end of figures -->';

/** The text with what stands between the marks of each name replaced. Throws where a name has no marks. */
export function withFigures(text: string, blocks: Readonly<Record<string, string>>): string {
  let result = text;
  for (const [name, block] of Object.entries(blocks)) {
    const start = result.indexOf(startOf(name));
    const end = result.indexOf(END, start);
    if (start < 0 || end < 0) throw new RangeError(`no "${startOf(name)}" .. "${END}" in the text`);
    result = `${result.slice(0, start)}${startOf(name)}\n${block}\n${result.slice(end)}`;
  }
  return result;
}
