/** Pairs of a group code and a value as the text of a DXF file. */
export const dxfText = (...groups: readonly (readonly [number, string | number])[]): string =>
  groups.map(([code, value]) => `${code}\n${value}\n`).join('');

type Group = readonly [number, string | number];
type Place = readonly [number, number, number?];

/** A light polyline: places with their bulges. */
export const polyline = (layer: string, places: readonly Place[], closed = true): Group[] => [
  [0, 'LWPOLYLINE'],
  [8, layer],
  [90, places.length],
  [70, closed ? 1 : 0],
  ...places.flatMap(([x, y, bulge]): Group[] => [[10, x], [20, y], ...(bulge ? [[42, bulge] as Group] : [])]),
];

export const oldPolyline = (layer: string, places: readonly Place[]): Group[] => [
  [0, 'POLYLINE'],
  [8, layer],
  [66, 1],
  [70, 1],
  ...places.flatMap(([x, y, bulge]): Group[] => [
    [0, 'VERTEX'],
    [8, layer],
    [10, x],
    [20, y],
    [42, bulge ?? 0],
  ]),
  [0, 'SEQEND'],
];

export const line = (layer: string, [x1, y1]: Place, [x2, y2]: Place): Group[] => [
  [0, 'LINE'],
  [8, layer],
  [10, x1],
  [20, y1],
  [11, x2],
  [21, y2],
];

export const point = (layer: string, [x, y]: Place): Group[] => [
  [0, 'POINT'],
  [8, layer],
  [10, x],
  [20, y],
];

export const words = (layer: string, text: string, [x, y]: Place = [0, 0]): Group[] => [
  [0, 'TEXT'],
  [8, layer],
  [10, x],
  [20, y],
  [40, 5],
  [1, text],
];

export const block = (name: string, ...entities: readonly Group[][]): Group[] => [
  [0, 'BLOCK'],
  [8, '1'],
  [2, name],
  [70, 0],
  [10, 0],
  [20, 0],
  ...entities.flat(),
  [0, 'ENDBLK'],
];

export const insert = (name: string, at: Place, xScale = 1, turn = 0, yScale = 1): Group[] => [
  [0, 'INSERT'],
  [8, '1'],
  [2, name],
  [10, at[0]],
  [20, at[1]],
  [41, xScale],
  [42, yScale],
  [50, turn],
];

/** A whole file; insunits null: no such variable. */
export const dxfFile = (
  insunits: number | null,
  blocks: readonly Group[][],
  entities: readonly Group[][],
): string =>
  dxfText(
    ...(insunits === null
      ? []
      : ([
          [0, 'SECTION'],
          [2, 'HEADER'],
          [9, '$INSUNITS'],
          [70, insunits],
          [0, 'ENDSEC'],
        ] as Group[])),
    [0, 'SECTION'],
    [2, 'BLOCKS'],
    ...blocks.flat(),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities.flat(),
    [0, 'ENDSEC'],
    [0, 'EOF'],
  );
