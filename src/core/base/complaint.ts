/** One thing wrong with a model as it was read. */
export interface Complaint {
  /** Path of the field: "bands[2].width_mm"; empty for the file as a whole. */
  readonly field: string;
  readonly found: string;
  readonly expected: string;
}

export const complaintLine = ({ field, found, expected }: Complaint): string =>
  `${field === '' ? 'the file' : field} is ${found}, expected ${expected}`;

/** A value as found, short enough for one line. */
export function shown(value: unknown): string {
  if (value === undefined) return 'missing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (ArrayBuffer.isView(value)) return `${value.byteLength} bytes`;
  if (typeof value === 'function') return 'a function';
  if (typeof value === 'object' && value !== null) return 'an object';
  // Not all values come from JSON: it would write NaN as null.
  const text = typeof value === 'string' ? JSON.stringify(value) : String(value);
  return text.length > 40 ? `${text.slice(0, 36)}..."` : text;
}
