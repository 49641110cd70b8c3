import { basename, resolve } from 'node:path';
import {
  checkResultFolder,
  type FileUnit,
  formatPieces,
  type LengthUnit,
  PIECES_FILES,
  parseLengthMm,
  piecesSummary,
  readPieces,
  UsageError,
  viewOfPiece,
  writePieces,
} from '../node.js';
import { refusalWithOptions, withOptions } from './option-words.js';
import { complain, oneLine, print } from './print.js';

/** What was asked for, as typed. */
export interface PiecesOptions {
  readonly units: LengthUnit;
  readonly fileUnit?: FileUnit;
  readonly size?: string;
  readonly boundary?: 'stitching' | 'cutting';
  readonly allowance?: string;
  readonly dxf?: boolean;
  readonly out?: string;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

const UNREADABLE = 3;
const NO_SCALE = 4;

/** Reads pieces, draws them, writes and tells. Returns the exit code, as the command's help says. */
export async function runPieces(path: string, options: PiecesOptions): Promise<number> {
  const { fileUnit, size, boundary, allowance, units } = options;
  if (allowance !== undefined && boundary !== 'cutting') {
    throw new UsageError(
      'says how far inside the cutting line the stitching line runs, so it needs the boundary "cutting"',
      'allowance',
      ['boundary'],
    );
  }
  const allowanceMm = allowance === undefined ? undefined : parseLengthMm(allowance, 'allowance');
  const read = await readPieces(path, { fileUnit, size, boundary, allowanceMm });
  if (!read.ok) {
    complain(refusalWithOptions(read.refusal));
    return read.refusal.reason === 'no-scale' ? NO_SCALE : UNREADABLE;
  }
  const { pieces, file, path: source } = read.value;
  const folder = options.out ?? (options.json ? null : folderNamedAfter(source));
  if (folder !== null) {
    await checkResultFolder(folder, source, PIECES_FILES);
    await writePieces(folder, pieces, { title: file, unit: units, dxf: options.dxf ?? false });
  }
  if (options.json) await print(formatPieces(pieces));
  else if (!options.quiet) {
    const notes = (pieces.warnings ?? []).map((warning) => `Note: ${oneLine(withOptions(warning))}\n`);
    const summary = piecesSummary(pieces.pieces.map(viewOfPiece), units);
    await print(`${summary}${notes.join('')}\nIn ${folder}: look at overview.png first\n`);
  }
  return 0;
}

/** Where the command is given: "tunic-pieces" for tunic.svg, tunic.dxf and tunic.pieces.json. */
const folderNamedAfter = (path: string): string => {
  const name = basename(resolve(path)).replace(/(\.pieces)?\.[a-z]+$/i, '');
  return `${name === 'pieces' ? basename(resolve(path, '..')) : name}-pieces`;
};
