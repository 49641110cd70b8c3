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
  if (typeof value === 'object' && value !== null) return 'an object';
  const json = JSON.stringify(value);
  return json.length > 40 ? `${json.slice(0, 36)}..."` : json;
}
