import library, { type DxfParser } from 'dxf-parser';

/** The module is its class: its types tell of an ES module, which it is not in Node. */
const Parser = library as unknown as new () => DxfParser;

/** What the library hands to a handler: pairs of a code and a value, one at a time. */
interface Scanner {
  next(): { readonly code: number; readonly value: number | string | boolean };
  isEOF(): boolean;
}
type Group = ReturnType<Scanner['next']>;

/** A point of a polyline; bulge: tangent of a quarter of the angle that the arc to the next point takes, positive counter-clockwise. */
export interface PolylineVertex {
  readonly x: number;
  readonly y: number;
  readonly bulge?: number;
}

abstract class Handler {
  /** Goes through the groups of one entity. */
  protected each(scanner: Scanner, visit: (code: number, value: Group['value']) => void): void {
    let group = scanner.next();
    while (!scanner.isEOF() && group.code !== 0) {
      visit(group.code, group.value);
      group = scanner.next();
    }
  }
}

/** The library's own drops the angle of a point, which is that of a notch. */
class PointHandler extends Handler {
  readonly ForEntityName = 'POINT' as const;
  parseEntity(scanner: Scanner): object {
    const entity: Record<string, unknown> = { type: 'POINT', position: { x: 0, y: 0 }, layer: '0' };
    this.each(scanner, (code, value) => {
      const position = entity.position as { x: number; y: number };
      if (code === 8) entity.layer = value;
      if (code === 10) entity.position = { ...position, x: value };
      if (code === 20) entity.position = { ...position, y: value };
      if (code === 50) entity.angle = value;
    });
    return entity;
  }
}

/** The library's own believes the count of points that the file gives, and loses those after one with a code it does not know. */
class LightPolylineHandler extends Handler {
  readonly ForEntityName = 'LWPOLYLINE' as const;
  parseEntity(scanner: Scanner): object {
    const vertices: { x: number; y: number; bulge?: number }[] = [];
    const entity: Record<string, unknown> = { type: 'LWPOLYLINE', vertices, layer: '0', shape: false };
    this.each(scanner, (code, value) => {
      const last = vertices[vertices.length - 1];
      if (code === 8) entity.layer = value;
      if (code === 70) entity.shape = (Number(value) & 1) === 1;
      if (code === 10) vertices.push({ x: Number(value), y: 0 });
      if (code === 20 && last !== undefined) last.y = Number(value);
      if (code === 42 && last !== undefined) last.bulge = Number(value);
      if (code === 230) entity.extrusionDirectionZ = value;
    });
    return entity;
  }
}

/** The library's parser with handlers of our own where its own lose something. */
export function dxfParser(): DxfParser {
  const parser = new Parser();
  for (const handler of [PointHandler, LightPolylineHandler]) {
    parser.registerEntityHandler(handler as unknown as Parameters<DxfParser['registerEntityHandler']>[0]);
  }
  return parser;
}
