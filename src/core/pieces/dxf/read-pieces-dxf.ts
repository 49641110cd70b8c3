import {
  anyText,
  check,
  checkFields,
  numberWithin,
  oneOf,
  optional,
  orNull,
  record,
  text as someText,
} from '../../base/expectation.js';
import { type Outcome, refuse, succeed, UsageError } from '../../base/outcome.js';
import type { Setting } from '../../base/setting.js';
import { buildPiece } from '../drawn/build-piece.js';
import type { Affine } from '../drawn/curves.js';
import { checkPieces } from '../piece/check-pieces.js';
import type { Piece, PiecesFile, PieceWarning } from '../piece/pieces-file.js';
import { piecesOfSize, sizesOf, systemText } from './choose-blocks.js';
import { drawnFromDxf } from './dxf-drawn-piece.js';
import { type DxfBlocks, partsOf } from './dxf-parts.js';
import { piecesInFile } from './dxf-pieces.js';
import { type FileUnit, fileUnits } from './dxf-units.js';
import { dxfParser } from './entity-handlers.js';
import type { DxfEntity } from './entity-lines.js';
import { scanDxf } from './scan-dxf.js';

export interface DxfOptions {
  /** What the file's numbers are; null: as the file says. */
  readonly fileUnit?: FileUnit | null;
  /** Which of several sizes; null: the one the style was drawn in, else the first. */
  readonly size?: string | null;
  /** What the boundary of a piece (layer 1) is where no closed sew line (layer 14) stands beside it; null: stitching, with a warning. */
  readonly boundary?: 'stitching' | 'cutting' | null;
  /** With a boundary that is cut along: how far inside it is stitched, mm. */
  readonly allowanceMm?: number | null;
}

const OPTIONS = record({
  fileUnit: optional(orNull(oneOf(['mm', 'cm', 'm', 'inch']))),
  size: optional(orNull(someText)),
  boundary: optional(orNull(oneOf(['stitching', 'cutting']))),
  allowanceMm: optional(orNull(numberWithin({ least: 0, most: 100 }, 'mm'))),
});

/**
 * Reads pieces from a DXF file of the sewn-products interchange standard (ASTM D6673; layers in layers.ts): each block with a boundary is a piece, each
 * time it is laid out one copy, laid out by a mirroring a mirrored one. A file without such blocks: every closed line of layer 1 is
 * a piece, with what lies in it. Refuses as `no-scale` what does not say its unit, and bad geometry with the piece and the place. Throws
 * UsageError for a size that the file has not.
 */
export function readPiecesDxf(text: string, options: DxfOptions = {}): Outcome<PiecesFile> {
  check(text, 'text', anyText);
  checkFields(options, 'options', OPTIONS);
  const { fileUnit = null, size = null, boundary = null, allowanceMm = null } = options;
  const parsed = parsedDxf(text);
  if (typeof parsed === 'string') return refuse('unreadable', parsed, 'save it again as text DXF');
  const { blocks, entities, unread } = parsed;
  const styleWords = styleTexts(entities, blocks);
  const units = fileUnits(fileUnit, parsed.insunits, styleWords);
  if (typeof units === 'string') {
    return refuse('no-scale', units, 'say what its numbers are: mm, cm, m or inch', ['fileUnit']);
  }
  const { mmPerUnit } = units;
  const mmFromFile: Affine = [mmPerUnit, 0, 0, mmPerUnit, 0, 0];
  const all = piecesInFile(entities, blocks, mmFromFile);
  if (typeof all === 'string') return refuse('unreadable', all, 'correct the file');
  if (all.length === 0) {
    return refuse(
      'unreadable',
      'the file has no piece: nothing is drawn on layer 1, the boundary of pieces',
      'export it by the layers of ASTM D6673',
    );
  }
  const chosen = piecesOfSize(all, size, systemText(styleWords, '(?:sample|base) size'));
  if (chosen === null) {
    throw new UsageError(
      `expected one of the file's sizes, ${sizesOf(all).join(', ') || 'of which it names none'}, received "${size}"`,
      'size',
    );
  }

  const warnings: PieceWarning[] = [];
  const warn = (code: string, message: string | null, settings?: readonly Setting[]): void => {
    if (message !== null) warnings.push({ code, message, ...(settings === undefined ? {} : { settings }) });
  };
  warn('unit-overruled', units.warning);
  warn('several-sizes', chosen.warning, ['size']);
  for (const [kind, count] of unread) warn('left-out', `${count} of ${kind} are not read`);

  const pieces: Piece[] = [];
  const guessed: string[] = [];
  const ids = new Set<string>();
  for (const source of chosen.pieces) {
    const id = freeId(source.name, ids);
    const found = drawnFromDxf(id, source, { boundary: boundary ?? 'stitching', allowanceMm });
    const built = typeof found === 'string' ? found : buildPiece(found.drawn);
    if (typeof found === 'string' || typeof built === 'string') {
      return refuse(
        'unreadable',
        `piece "${id}": ${typeof found === 'string' ? found : built}`,
        'correct the file',
      );
    }
    if (found.guessed && boundary === null) guessed.push(id);
    for (const note of found.notes) warn('left-out', `piece "${id}": ${note}`);
    warnings.push(...built.warnings);
    pieces.push(built.piece);
  }
  if (guessed.length > 0) {
    warn(
      'boundary-taken',
      `the file does not say whether its outlines are stitched or cut along (${guessed.join(', ')}): they are taken for stitching lines`,
      ['boundary'],
    );
  }
  const fault = checkPieces(pieces);
  if (fault !== null) return refuse('unreadable', fault, 'correct the file');
  return succeed({
    format: 'stripewright.pieces',
    version: 1,
    units: 'mm',
    pieces,
    ...(warnings.length === 0 ? {} : { warnings }),
  });
}

interface ParsedDxf {
  readonly blocks: DxfBlocks;
  readonly entities: readonly DxfEntity[];
  readonly insunits: unknown;
  readonly unread: ReadonlyMap<string, number>;
}

function parsedDxf(text: string): ParsedDxf | string {
  const scan = scanDxf(text);
  if (typeof scan === 'string') return scan;
  try {
    const dxf = dxfParser().parseSync(text.replace(/^\uFEFF/, ''));
    if (dxf === null) return 'the file is no DXF';
    const entities = ((dxf.entities ?? []) as unknown as DxfEntity[]).filter((one) => !one.inPaperSpace);
    return {
      blocks: (dxf.blocks ?? {}) as unknown as DxfBlocks,
      entities,
      insunits: dxf.header?.$INSUNITS,
      unread: scan.unread,
    };
  } catch (error) {
    return `the file is no DXF, or damaged (${(error as Error).message})`;
  }
}

/** What is written beside the pieces. */
function styleTexts(entities: readonly DxfEntity[], blocks: DxfBlocks): string[] {
  const parts = partsOf(
    entities.filter((entity) => entity.type === 'TEXT' || entity.type === 'MTEXT'),
    [1, 0, 0, 1, 0, 0],
    blocks,
  );
  const inBlocks = Object.values(blocks).flatMap((block) =>
    (block.entities ?? []).flatMap((entity) => (entity.type === 'TEXT' ? [entity.text ?? ''] : [])),
  );
  const own = typeof parts === 'string' ? [] : parts.flatMap((part) => part.text?.words ?? []);
  return [...own, ...inBlocks];
}

/** The name, or with a number behind it where another piece has it. */
function freeId(name: string, ids: Set<string>): string {
  let id = name;
  for (let k = 2; ids.has(id); k++) id = `${name} ${k}`;
  ids.add(id);
  return id;
}
