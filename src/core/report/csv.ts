export type CsvCell = string | number | boolean | null;

/** Rows as RFC 4180 has them (CRLF, quotes where needed). Text that a spreadsheet would run as a formula gets a quote mark before it. */
export const csvText = (rows: readonly (readonly CsvCell[])[]): string =>
  rows.map((row) => `${row.map(field).join(',')}\r\n`).join('');

/** One field. Numbers may begin with a minus; text may not begin like a formula. */
function field(cell: CsvCell): string {
  if (typeof cell !== 'string') return cell === null ? '' : String(cell);
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}
