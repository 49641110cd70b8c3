const latin = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));

/**
 * Whether a file begins as a JPEG, PNG, WebP, TIFF or HEIF (HEIC, AVIF) does. Asked before anything is decoded: what decodes pictures
 * also knows drawings, documents and scientific data, none of which has any business here.
 *
 * Sources: ITU-T T.81 (SOI), ISO/IEC 15948 5.2, RFC 9649 2.4, TIFF 6.0 section 2 and BigTIFF, ISO/IEC 14496-12 4.3.
 */
export function beginsAsPhoto(bytes: Uint8Array): boolean {
  const [first, second, third] = bytes;
  if (first === 0xff && second === 0xd8 && third === 0xff) return true;
  if (latin(bytes, 0, 8) === '\x89PNG\r\n\x1a\n') return true;
  if (latin(bytes, 0, 4) === 'RIFF' && latin(bytes, 8, 12) === 'WEBP') return true;
  if (['II*\0', 'MM\0*', 'II+\0', 'MM\0+'].includes(latin(bytes, 0, 4))) return true;
  return latin(bytes, 4, 8) === 'ftyp';
}
