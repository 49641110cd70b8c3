import type { Point } from '../../math/matrix3.js';
import { type Affine, applied, composed } from '../drawn/curves.js';
import type { DrawnLine } from '../drawn/join-lines.js';
import { type DxfEntity, lineOfEntity, seenFromBehind } from './entity-lines.js';
import { LAYER } from './layers.js';

/** One thing drawn on a layer, in mm. */
export interface DxfPart {
  readonly layer: string;
  readonly line: DrawnLine | null;
  readonly point: Point | null;
  readonly text: { readonly words: string; readonly at: Point } | null;
}

export type DxfBlocks = Readonly<
  Record<string, { readonly entities?: readonly DxfEntity[]; readonly position?: { x: number; y: number } }>
>;

/** Layers whose lines shape a piece: what cannot be read on others is no loss. */
const LINE_LAYERS: ReadonlySet<string> = new Set([
  LAYER.boundary,
  LAYER.mirror,
  LAYER.grain,
  LAYER.stripes,
  LAYER.sew,
]);

/** Blocks within blocks: a piece has at most its marks as blocks of their own. */
const DEEPEST = 8;

/** How an INSERT lays its block: (x, y) of the block to (x, y) of what it stands in. */
export function insertMap(entity: DxfEntity, blocks: DxfBlocks): Affine {
  const base = blocks[entity.name ?? '']?.position ?? { x: 0, y: 0 };
  const [sx, sy] = [entity.xScale ?? 1, entity.yScale ?? 1];
  const turn = ((entity.rotation ?? 0) * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const { x = 0, y = 0 } = entity.position ?? { x: 0, y: 0 };
  const laid: Affine = [cos * sx, sin * sx, -sin * sy, cos * sy, x, y];
  const seen: Affine = seenFromBehind(entity) ? [-1, 0, 0, 1, 0, 0] : [1, 0, 0, 1, 0, 0];
  return composed(composed(seen, laid), [1, 0, 0, 1, -base.x, -base.y]);
}

/**
 * Everything that entities draw, blocks within them opened; what lies on layer 0 of a block takes the layer that the block is laid on. A
 * text that says what cannot be read.
 */
export function partsOf(
  entities: readonly DxfEntity[],
  mmFromFile: Affine,
  blocks: DxfBlocks,
  layer = '0',
  depth = 0,
): DxfPart[] | string {
  const parts: DxfPart[] = [];
  if (depth > DEEPEST) return 'blocks lie within blocks without end';
  for (const entity of entities) {
    const own = entity.layer === undefined || entity.layer === '0' ? layer : entity.layer;
    if (entity.type === 'INSERT') {
      const block = blocks[entity.name ?? ''];
      if (block === undefined) continue;
      const inner = partsOf(
        block.entities ?? [],
        composed(mmFromFile, insertMap(entity, blocks)),
        blocks,
        own,
        depth + 1,
      );
      if (typeof inner === 'string') return inner;
      parts.push(...inner);
      continue;
    }
    const place = entity.type === 'POINT' ? entity.position : (entity.startPoint ?? entity.position);
    const at = place === undefined ? null : applied(mmFromFile, [place.x, place.y]);
    if (entity.type === 'POINT') parts.push({ layer: own, line: null, point: at, text: null });
    else if (entity.type === 'TEXT' || entity.type === 'MTEXT') {
      const words = plainWords(entity.text ?? '');
      if (at !== null && words !== '')
        parts.push({ layer: own, line: null, point: null, text: { words, at } });
    } else {
      const line = lineOfEntity(entity, mmFromFile);
      if (typeof line === 'string') {
        if (LINE_LAYERS.has(own)) return `layer ${own} holds ${line}`;
      } else if (line !== null) parts.push({ layer: own, line, point: null, text: null });
    }
  }
  return parts;
}

/** Words without the codes that set them: \P, \A1; and the like, %%d; \U+XXXX for what the file's letters lack. */
const plainWords = (text: string): string =>
  text
    .replace(/\\U\+([0-9A-F]{4})/gi, (_, code) => String.fromCharCode(Number.parseInt(code, 16)))
    .replace(/\\P/g, ' ')
    .replace(/\\[A-Z][^;\\]*;/gi, '')
    .replace(/[{}]/g, '')
    .replace(/%%d/gi, '°')
    .trim();
