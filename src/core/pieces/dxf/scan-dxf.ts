/** What goes through the whole text before the library reads it, since it takes "abc" for nothing and passes over what it does not know. */
export interface DxfScan {
  /** Kinds of entities that are drawn but not read, with how many of each. */
  readonly unread: ReadonlyMap<string, number>;
}

const READ = new Set([
  'LINE',
  'LWPOLYLINE',
  'POLYLINE',
  'VERTEX',
  'SEQEND',
  'ARC',
  'CIRCLE',
  'ELLIPSE',
  'SPLINE',
  'POINT',
  'TEXT',
  'MTEXT',
  'INSERT',
  'ATTRIB',
  'ATTDEF',
  'BLOCK',
  'ENDBLK',
  'SECTION',
  'ENDSEC',
  'EOF',
]);

/** Codes whose values are coordinates, lengths or angles (DXF reference, group codes by number). */
const isReal = (code: number): boolean => (code >= 10 && code <= 59) || (code >= 210 && code <= 239);

/** Goes through the pairs of a DXF text. A text that says what is wrong and in which line when it is none, or is cut short. */
export function scanDxf(text: string): DxfScan | string {
  if (text.startsWith('AutoCAD Binary DXF')) return 'the file is a binary DXF, expected one of text (ASCII)';
  const rows = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const unread = new Map<string, number>();
  let section = '';
  for (let i = 0; i + 1 < rows.length; i += 2) {
    const code = Number(rows[i]);
    const value = rows[i + 1].trim();
    if (rows[i].trim() === '' || !Number.isInteger(code)) {
      return `line ${i + 1} is "${rows[i].trim().slice(0, 30)}", expected a group code: the file is no DXF, or damaged`;
    }
    if (code === 0 && value === 'EOF') return { unread };
    if (code === 2 && rows[i - 1]?.trim() === 'SECTION') section = value;
    if (section !== 'BLOCKS' && section !== 'ENTITIES') continue;
    if (isReal(code) && (value === '' || !Number.isFinite(Number(value)))) {
      return `line ${i + 2} is "${value.slice(0, 30)}", expected a number`;
    }
    if (code === 0 && !READ.has(value)) unread.set(value, (unread.get(value) ?? 0) + 1);
  }
  return 'the file ends before its end mark (EOF): it is no DXF, or cut short';
}
