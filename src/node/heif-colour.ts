/** Coded colour of a HEIF picture by number instead of by ICC profile (ITU-T H.273, tables 2 and 3). */
export interface CodedColour {
  /** 1: as sRGB, 2: not said, 12: Display P3, 9: BT.2020. */
  readonly primaries: number;
  /** 13: sRGB, 1, 6, 14, 15: camera curves shown as sRGB, 16: PQ, 18: HLG. */
  readonly transfer: number;
}

/**
 * Reads the first `colr` box of kind `nclx` among the item properties of a HEIF file, or null when there is none.
 * Source: ISO/IEC 14496-12, clauses 4.2 (boxes) and 12.1.5 (colr); ISO/IEC 23008-12, clause 9.3 (iprp, ipco).
 */
export function codedColourOfHeif(file: Uint8Array): CodedColour | null {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const meta = boxes(view, { from: 0, to: view.byteLength }).find((box) => box.kind === 'meta');
  // meta is a full box: four bytes of version and flags come before its children.
  const properties =
    meta && boxes(view, { from: meta.from + 4, to: meta.to }).find((box) => box.kind === 'iprp');
  const list = properties && boxes(view, properties).find((box) => box.kind === 'ipco');
  const coded = (list ? boxes(view, list) : []).find(
    (box) => box.kind === 'colr' && box.to - box.from >= 8 && word(view, box.from) === 'nclx',
  );
  return coded
    ? { primaries: view.getUint16(coded.from + 4), transfer: view.getUint16(coded.from + 6) }
    : null;
}

interface Span {
  /** First byte of the content, and the byte after its last. */
  readonly from: number;
  readonly to: number;
}

function boxes(view: DataView, inside: Span): (Span & { readonly kind: string })[] {
  const found: (Span & { readonly kind: string })[] = [];
  let at = inside.from;
  while (at + 8 <= inside.to) {
    const short = view.getUint32(at);
    const long = short === 1 && at + 16 <= inside.to;
    const size = long ? Number(view.getBigUint64(at + 8)) : short === 0 ? inside.to - at : short;
    const header = long ? 16 : 8;
    if (size < header || at + size > inside.to) break;
    found.push({ kind: word(view, at + 4), from: at + header, to: at + size });
    at += size;
  }
  return found;
}

const word = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));
