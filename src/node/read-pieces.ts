import { readFile, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { check, record, text as words } from '../core/base/expectation.js';
import {
  type DxfOptions,
  type Outcome,
  type PiecesFile,
  parsePieces,
  readPiecesDxf,
  readPiecesSvg,
  refuse,
  succeed,
  UsageError,
} from '../index.js';

export type PiecesKind = 'json' | 'svg' | 'dxf';

/** Pieces and where they came from. */
export interface PiecesSource {
  readonly pieces: PiecesFile;
  /** Name of the file, without its folder. */
  readonly file: string;
  /** The file itself, where a folder was named. */
  readonly path: string;
  readonly kind: PiecesKind;
}

const NAME = 'pieces.json';
/** A whole collection in all its sizes takes a few; more is no pattern. */
const LARGEST_BYTES = 64 * 1024 * 1024;

/**
 * Reads pieces from a JSON, SVG or DXF file (told by what is in it), or from the folder that holds a pieces.json. Never throws for a bad file, but
 * UsageError when `options`, which say how to read DXF, are given for another kind.
 */
export async function readPieces(path: string, options: DxfOptions = {}): Promise<Outcome<PiecesSource>> {
  check(path, 'path', words);
  check(options, 'options', record({}));
  const facts = await stat(path).catch(() => null);
  const target = facts?.isDirectory() ? join(path, NAME) : path;
  if (facts !== null && facts.size > LARGEST_BYTES) {
    return refuse('unreadable', `${path} has more than 64 MB`, 'give the pieces of one garment');
  }
  let bytes: Buffer;
  try {
    bytes = await readFile(target);
  } catch (error) {
    const missing = (error as NodeJS.ErrnoException).code === 'ENOENT';
    const found = missing
      ? facts?.isDirectory()
        ? `${path} holds no ${NAME}`
        : `There is no file ${path}`
      : `${target} cannot be read`;
    return refuse('unreadable', found, 'give an SVG, a DXF or a pieces.json');
  }
  const text = decoded(bytes);
  const kind = kindOf(text);
  const given = Object.entries(options).find(([, value]) => value !== null && value !== undefined);
  if (kind !== 'dxf' && given !== undefined) {
    throw new UsageError(`says how to read DXF, and ${basename(target)} is ${kind.toUpperCase()}`, given[0]);
  }
  const outcome =
    kind === 'json' ? parsePieces(text) : kind === 'svg' ? readPiecesSvg(text) : readPiecesDxf(text, options);
  if (!outcome.ok) {
    const { refusal } = outcome;
    return refuse(refusal.reason, `${basename(target)}: ${refusal.found}`, refusal.remedy, refusal.settings);
  }
  return succeed({ pieces: outcome.value, file: basename(target), path: target, kind });
}

/** UTF-8; where the bytes are none, the letters of western Europe, in which older DXF is written. */
function decoded(bytes: Buffer): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

function kindOf(text: string): PiecesKind {
  const start = text
    .slice(0, 200)
    .replace(/^\uFEFF/, '')
    .trimStart();
  if (start.startsWith('{') || start.startsWith('[')) return 'json';
  return start.startsWith('<') ? 'svg' : 'dxf';
}
