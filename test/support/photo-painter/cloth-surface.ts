import { EDGE_ROW_MM, type EdgeTable, edgeTable } from './edge-table.js';
import { linearFromHex } from './linear-colour.js';
import { noiseTile } from './noise-tile.js';
import { coverage } from './pixel-coverage.js';
import { motifDepth, toNearestCopy } from './print-motifs.js';
import type { BandSpec, ClothSpec, PlainGround, PrintSpec, SpottedGround, StripedGround } from './scene.js';
import type { SeededRandom } from './seeded-random.js';
import { type ShellDepth, shellDepth, toNearestShell } from './shell-motif.js';
import { weaveTexture } from './weave-texture.js';

/** Part of the cloth that can be seen, mm. */
export interface ClothView {
  readonly u: readonly [number, number];
  readonly v: readonly [number, number];
}

/** Fills out with the linear colour of the pixel about (u, v); g holds du/dx, du/dy, dv/dx, dv/dy in mm a px. */
export type PixelPainter = (u: number, v: number, g: Float64Array, out: Float64Array) => void;

export interface ClothSurface {
  readonly paint: PixelPainter;
  /** Null where the cloth has no stripes. */
  readonly edges: EdgeTable | null;
  readonly checkEdges: EdgeTable | null;
}

export function clothSurface(
  spec: ClothSpec,
  view: ClothView,
  pxPerMm: number,
  random: SeededRandom,
): ClothSurface {
  const shade = weaveTexture(spec.weave, pxPerMm, random);
  const withWeave =
    (ground: PixelPainter): PixelPainter =>
    (u, v, g, out) => {
      ground(u, v, g, out);
      const s = shade(u, v);
      out[0] *= s;
      out[1] *= s;
      out[2] *= s;
    };
  const ground = spec.ground;
  if (ground.kind === 'striped') {
    const striped = stripedGround(ground, view, random);
    return { ...striped, paint: withWeave(striped.paint) };
  }
  const paint = ground.kind === 'plain' ? plainGround(ground, random) : spottedGround(ground);
  return { paint: withWeave(paint), edges: null, checkEdges: null };
}

function stripedGround(ground: StripedGround, view: ClothView, random: SeededRandom): ClothSurface {
  const extent = view.v[1] - view.v[0];
  const middle = (view.v[0] + view.v[1]) / 2;
  const bowMm = (ground.bowPercent / 100) * extent;
  const margin = Math.abs(bowMm) + 5;
  const edges = edgeTable(ground.bands, ground, [view.u[0] - margin, view.u[1] + margin], view.v, random);
  const across = bandColours(edges, ground.bands);
  const bow = (v: number) => bowMm * ((2 * (v - middle)) / extent) ** 2;

  let paint: PixelPainter = (u, v, g, out) => across(u - bow(v), v, g[0], g[1], out);
  let checkEdges: EdgeTable | null = null;
  if (ground.check) {
    checkEdges = edgeTable(ground.check, ground, view.v, [view.u[0] - margin, view.u[1] + margin], random);
    const along = bandColours(checkEdges, ground.check);
    const stripes = paint;
    const other = new Float64Array(3);
    paint = (u, v, g, out) => {
      stripes(u, v, g, out);
      along(v, u, g[2], g[3], other);
      for (let c = 0; c < 3; c++) out[c] = (out[c] + other[c]) / 2;
    };
  }
  if (ground.motif) paint = withShells(paint, ground, bow);
  if (ground.print) paint = withPrint(paint, ground, ground.print, bow);
  return { paint, edges, checkEdges };
}

/** Colour of a pixel among bands, area-exact for up to two edges inside it. */
function bandColours(table: EdgeTable, bands: readonly BandSpec[]) {
  const { edgeCount, us, vFromMm, rowCount } = table;
  const fromOf = bands.map((band) => linearFromHex(band.colour));
  const toOf = bands.map((band) => linearFromHex(band.shadeTo ?? band.colour));
  const shaded = bands.some((band) => band.shadeTo !== undefined);
  const rgbOfEdge = new Float64Array(edgeCount * 3);
  const rgbAtEnd = new Float64Array(edgeCount * 3);
  for (let e = 0; e < edgeCount; e++) {
    rgbOfEdge.set(fromOf[table.bandOfEdge[e]], e * 3);
    rgbAtEnd.set(toOf[table.bandOfEdge[e]], e * 3);
  }
  const meanBandMm = (us[edgeCount - 1] - us[0]) / (edgeCount - 1);
  return (u: number, v: number, gradX: number, gradY: number, out: Float64Array): void => {
    const at = Math.max(0, Math.min(rowCount - 1.001, (v - vFromMm) / EDGE_ROW_MM));
    const row = Math.floor(at);
    const t = at - row;
    const upper = row * edgeCount;
    const lower = upper + edgeCount;
    let e = Math.max(1, Math.min(edgeCount - 3, Math.floor((u - us[0]) / meanBandMm)));
    while (e > 1 && u < us[upper + e] + t * (us[lower + e] - us[upper + e])) e--;
    let next = us[upper + e + 1] + t * (us[lower + e + 1] - us[upper + e + 1]);
    while (e < edgeCount - 3 && u >= next) {
      e++;
      next = us[upper + e + 1] + t * (us[lower + e + 1] - us[upper + e + 1]);
    }
    const start = us[upper + e] + t * (us[lower + e] - us[upper + e]);
    const before = 1 - coverage(u - start, gradX, gradY);
    const after = coverage(u - next, gradX, gradY);
    const here = 1 - before - after;
    const i = e * 3;
    const part = shaded ? Math.max(0, Math.min(1, (u - start) / (next - start))) : 0;
    for (let c = 0; c < 3; c++) {
      const own = rgbOfEdge[i + c] + part * (rgbAtEnd[i + c] - rgbOfEdge[i + c]);
      out[c] = own * here + rgbAtEnd[i - 3 + c] * before + rgbOfEdge[i + 3 + c] * after;
    }
  };
}

function withShells(ground: PixelPainter, spec: StripedGround, bow: (v: number) => number): PixelPainter {
  const motif = spec.motif!;
  const repeatMm = spec.bands.reduce((sum, band) => sum + band.widthMm, 0);
  const body = linearFromHex(motif.colour);
  const rib = linearFromHex(motif.ribColour);
  const depth: ShellDepth = { body: 0, rib: 0 };
  return (u, v, g, out) => {
    ground(u, v, g, out);
    const [x, y] = toNearestShell(motif, repeatMm, u - bow(v), v);
    if (Math.abs(x) > motif.heightMm || Math.abs(y) > motif.heightMm) return;
    shellDepth(motif, x, y, depth);
    const pixelMm = Math.sqrt((g[0] * g[0] + g[1] * g[1] + g[2] * g[2] + g[3] * g[3]) / 2);
    mix(out, body, ramp(depth.body / pixelMm));
    mix(out, rib, ramp(depth.rib / pixelMm));
  };
}

function withPrint(
  ground: PixelPainter,
  spec: StripedGround,
  print: PrintSpec,
  bow: (v: number) => number,
): PixelPainter {
  const repeatMm = spec.bands.reduce((sum, band) => sum + band.widthMm, 0);
  const inks = print.motifs.map((motif) => ({ motif, colour: linearFromHex(motif.colour) }));
  return (u, v, g, out) => {
    ground(u, v, g, out);
    const pixelMm = Math.sqrt((g[0] * g[0] + g[1] * g[1] + g[2] * g[2] + g[3] * g[3]) / 2);
    for (const { motif, colour } of inks) {
      const [x, y] = toNearestCopy(print, motif, repeatMm, u - bow(v), v);
      if (Math.hypot(x, y) > motif.sizeMm) continue;
      mix(out, colour, ramp(motifDepth(motif, x, y) / pixelMm));
    }
  };
}

/** Share of a pixel inside a shape whose outline lies depthPx away. */
export const ramp = (depthPx: number): number => Math.max(0, Math.min(1, 0.5 + depthPx));

export function mix(out: Float64Array, colour: ArrayLike<number>, share: number): void {
  if (share <= 0) return;
  for (let c = 0; c < 3; c++) out[c] += (colour[c] - out[c]) * share;
}

function plainGround(ground: PlainGround, random: SeededRandom): PixelPainter {
  const colour = linearFromHex(ground.colour);
  const cloud = noiseTile(random);
  return (u, v, _g, out) => {
    const shade =
      ground.mottle === 0
        ? 1
        : 1 +
          ground.mottle *
            (cloud(u * 0.05, v * 0.05) + 0.7 * cloud(u * 0.31, v * 0.31) + 0.5 * cloud(u * 1.3, v * 1.3));
    for (let c = 0; c < 3; c++) out[c] = colour[c] * shade;
  };
}

function spottedGround(ground: SpottedGround): PixelPainter {
  const colour = linearFromHex(ground.colour);
  const spot = linearFromHex(ground.spotColour);
  const { pitchMm, radiusMm } = ground;
  return (u, v, g, out) => {
    for (let c = 0; c < 3; c++) out[c] = colour[c];
    const row = Math.round(v / (pitchMm / 2));
    const x = u - (row & 1 ? pitchMm / 2 : 0);
    const dx = x - Math.round(x / pitchMm) * pitchMm;
    const dy = v - (row * pitchMm) / 2;
    const r = Math.sqrt(dx * dx + dy * dy);
    mix(out, spot, ramp((radiusMm - r) / Math.sqrt(g[0] * g[0] + g[1] * g[1])));
  };
}
