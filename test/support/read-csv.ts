/** A reader written from the grammar of RFC 4180, section 2: it accepts nothing else. */
export function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = 0;
  while (at < text.length) {
    const quoted = /^"((?:[^"]|"")*)"/.exec(text.slice(at));
    const plain = /^[^",\r\n]*/.exec(text.slice(at))![0];
    row.push(quoted ? quoted[1].replaceAll('""', '"') : plain);
    at += quoted ? quoted[0].length : plain.length;
    if (text[at] === ',') at++;
    else if (text.startsWith('\r\n', at)) {
      rows.push(row);
      row = [];
      at += 2;
    } else throw new Error(`neither comma nor CRLF at ${at}: ${JSON.stringify(text.slice(at, at + 20))}`);
  }
  if (row.length > 0) throw new Error('the last row has no end');
  return rows;
}
