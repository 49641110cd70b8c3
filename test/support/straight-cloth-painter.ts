import { raster } from '../../src/core/raster/raster.js';
import type { StraightCloth } from '../../src/core/rectify/straight-cloth.js';
import { encodedLevels, type LinearRgb, linearFromHex } from './photo-painter/linear-colour.js';
import { noiseTile } from './photo-painter/noise-tile.js';
import { type SeededRandom, seededRandom } from './photo-painter/seeded-random.js';

/** A figure printed over the bands, one in each repeat across. Columns and rows of the straight picture. */
export interface StraightMotif {
  readonly colour: string;
  /** Centre, columns from the start of the repeat. */
  readonly at: number;
  readonly alongRows: number;
  /** Each next repeat lies this share of alongRows lower. */
  readonly drop: number;
  readonly radiusColumns: number;
  /** A half disc has a top and a bottom. */
  readonly shape: 'disc' | 'half-disc';
}

/** What spoils the picture; each on its own, nothing by default. */
export interface StraightDirt {
  /** Gaussian blur of edges, columns. */
  readonly blur: number;
  /** Standard deviation of the noise, 8-bit levels. */
  readonly noise: number;
  /** Relative standard deviation of single instances' widths. */
  readonly unevenness: number;
  /** Largest sideways wander of all edges together over the height, columns. */
  readonly wander: number;
  /** Each edge's own slow departure along its length, columns. */
  readonly ragged: number;
  /** Local scale at the right edge less that at the left, over the mean: 0.2 is ten percent either way. */
  readonly stretch: number;
  /** Brightness of the threads about 1. */
  readonly weave: number;
  /** Light at (x, y), each 0..1 over the picture; 1 = full. */
  readonly light: (x: number, y: number) => number;
  /** Part hidden by a ruler, 1 = hidden. Columns and rows. */
  readonly hidden: (column: number, row: number) => boolean;
}

export interface StraightScene {
  /** One repeat: '#rrggbb' and width in columns; a shaded band runs from its colour to another. */
  readonly bands: readonly { readonly colour: string; readonly width: number; readonly shadeTo?: string }[];
  /** Woven across: the second direction's bands, widths in rows; colours mix half and half. */
  readonly crossing?: readonly { readonly colour: string; readonly width: number }[];
  readonly motif?: StraightMotif;
  readonly columns: number;
  readonly rows: number;
  /** Column where band 0 of repeat 0 begins, before the stretch. */
  readonly start: number;
  readonly seed: number;
  readonly dirt?: Partial<StraightDirt>;
}

/** Where a band truly begins: mean column over the height. */
export interface PaintedEdge {
  readonly column: number;
  readonly band: number;
  readonly repeat: number;
}

export interface PaintedStraight {
  readonly cloth: StraightCloth;
  /** Edges inside the picture, ascending. */
  readonly edges: readonly PaintedEdge[];
  readonly repeatColumns: number;
}

const CLEAN: StraightDirt = {
  blur: 0.6,
  noise: 0,
  unevenness: 0,
  wander: 0,
  ragged: 0,
  stretch: 0,
  weave: 0,
  light: () => 1,
  hidden: () => false,
};

export const MM_PER_COLUMN = 0.2;
export const MM_PER_ROW = 0.8;

/** Paints cloth whose stripes run down the columns, spoilt as told; the same scene gives the same picture. */
export function paintStraight(scene: StraightScene): PaintedStraight {
  const dirt = { ...CLEAN, ...scene.dirt };
  const random = seededRandom(scene.seed);
  const { columns, rows } = scene;
  const edges = layEdges(scene, dirt, random);
  const colours = scene.bands.map(
    (b) => [linearFromHex(b.colour), linearFromHex(b.shadeTo ?? b.colour)] as const,
  );
  const crossing = scene.crossing ? crossingRows(scene.crossing, rows) : null;
  const motif = scene.motif ? motifCover(scene, scene.motif, dirt) : null;
  const ownNoise = noiseTile(random);
  const threads = noiseTile(random);
  const data = new Uint8Array(columns * rows * 3);
  const seen = new Uint8Array(columns * rows);
  const phase = random.between(0, 6);
  // Mean of the wander over the height, so that edges lie on average where they are said to.
  const middle = (Math.cos(phase) - Math.cos(phase + 4)) / 4;
  const line = new Float64Array(3 * columns);
  const sigma = Math.hypot(dirt.blur, Math.sqrt(1 / 12));
  for (let y = 0; y < rows; y++) {
    const sideways = dirt.wander * (Math.sin(phase + (4 * y) / rows) - middle);
    const places = edges.map((e, i) => e.column + sideways + dirt.ragged * ownNoise((9 * y) / rows, 3 * i));
    paintLine(line, edges, places, colours, sigma);
    for (let x = 0; x < columns; x++) {
      const p = y * columns + x;
      if (dirt.hidden(x, y)) continue;
      seen[p] = 1;
      const shade =
        dirt.light((x + 0.5) / columns, (y + 0.5) / rows) * (1 + dirt.weave * threads(x * 0.45, y * 1.8));
      for (let c = 0; c < 3; c++) {
        let linear = line[3 * x + c];
        if (crossing) linear = (linear + crossing[y][c]) / 2;
        if (motif) {
          const cover = motif.cover(x + 0.5 - sideways, y + 0.5);
          linear += cover * (motif.linear[c] - linear);
        }
        const level = encodedLevels[Math.round(16384 * Math.min(1, Math.max(0, linear * shade)))];
        const noisy = level + (dirt.noise > 0 ? dirt.noise * random.gaussian() : 0);
        data[3 * p + c] = Math.min(255, Math.max(0, Math.round(noisy)));
      }
    }
  }
  return {
    cloth: {
      picture: raster(columns, rows, 3, data),
      cloth: seen,
      uFromMm: 0,
      mmPerColumn: MM_PER_COLUMN,
      vFromMm: 0,
      mmPerRow: MM_PER_ROW,
    },
    edges: edges.filter((e) => e.column > 0 && e.column < columns),
    repeatColumns: scene.bands.reduce((sum, b) => sum + b.width, 0),
  };
}

/** Edges from well before the picture to well beyond it; uneven widths add up, as on a loom. */
function layEdges(scene: StraightScene, dirt: StraightDirt, random: SeededRandom): PaintedEdge[] {
  const n = scene.bands.length;
  const repeat = scene.bands.reduce((sum, b) => sum + b.width, 0);
  const first = -Math.ceil((scene.start + 0.3 * scene.columns) / repeat) - 1;
  const edges: PaintedEdge[] = [];
  let at = scene.start + first * repeat;
  for (let k = 0; at < 1.3 * scene.columns || k % n !== 0; k++) {
    edges.push({
      column: stretched(at, scene.columns, dirt.stretch),
      band: k % n,
      repeat: first + Math.floor(k / n),
    });
    at += scene.bands[k % n].width * (1 + dirt.unevenness * random.gaussian());
  }
  return edges;
}

/** Keeps the middle of the picture and its scale there. */
function stretched(at: number, columns: number, stretch: number): number {
  const d = at - columns / 2;
  return columns / 2 + d * (1 + (stretch * d) / (2 * columns));
}

function unstretched(x: number, columns: number, stretch: number): number {
  let at = x;
  for (let i = 0; i < 8; i++) at += x - stretched(at, columns, stretch);
  return at;
}

/** One row: the bands' colours, each edge an integral of a Gaussian. */
function paintLine(
  line: Float64Array,
  edges: readonly PaintedEdge[],
  places: readonly number[],
  colours: readonly (readonly [LinearRgb, LinearRgb])[],
  sigma: number,
): void {
  const columns = line.length / 3;
  const n = colours.length;
  let next = 0;
  for (let x = 0; x < columns; x++) {
    while (next < places.length && places[next] <= x + 0.5) next++;
    const [start, end] = colours[edges[Math.max(0, next - 1)].band];
    const from = places[Math.max(0, next - 1)];
    const part = (x + 0.5 - from) / ((places[next] ?? columns) - from);
    for (let c = 0; c < 3; c++) line[3 * x + c] = start[c] + part * (end[c] - start[c]);
  }
  places.forEach((place, e) => {
    const after = colours[edges[e].band][0];
    const before = colours[(edges[e].band + n - 1) % n][1];
    const reach = 4 * sigma;
    for (
      let x = Math.max(0, Math.ceil(place - reach - 0.5));
      x < Math.min(columns, place + reach - 0.5);
      x++
    ) {
      const q = (x + 0.5 - place) / sigma;
      const share = normalBelow(q) - (q >= 0 ? 1 : 0);
      for (let c = 0; c < 3; c++) line[3 * x + c] += share * (after[c] - before[c]);
    }
  });
}

/** The normal distribution function: Abramowitz and Stegun 26.2.17, error below 7.5e-8. */
function normalBelow(q: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(q));
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const above = (Math.exp(-0.5 * q * q) / Math.sqrt(2 * Math.PI)) * poly;
  return q >= 0 ? 1 - above : above;
}

function crossingRows(
  bands: readonly { readonly colour: string; readonly width: number }[],
  rows: number,
): LinearRgb[] {
  const repeat = bands.reduce((sum, b) => sum + b.width, 0);
  return Array.from({ length: rows }, (_, y) => {
    let at = (y + 0.5) % repeat;
    const band = bands.find((b) => {
      at -= b.width;
      return at < 0;
    });
    return linearFromHex((band ?? bands[bands.length - 1]).colour);
  });
}

function motifCover(scene: StraightScene, motif: StraightMotif, dirt: StraightDirt) {
  const repeat = scene.bands.reduce((sum, b) => sum + b.width, 0);
  const linear = linearFromHex(motif.colour);
  const rowColumns = MM_PER_ROW / MM_PER_COLUMN;
  const cover = (x: number, y: number): number => {
    const u = unstretched(x, scene.columns, dirt.stretch) - scene.start - motif.at;
    const k = Math.round(u / repeat);
    const dx = u - k * repeat;
    const v = y - k * motif.drop * motif.alongRows;
    const dy = (v - Math.round(v / motif.alongRows) * motif.alongRows) * rowColumns;
    const disc = motif.radiusColumns - Math.hypot(dx, dy);
    const depth = motif.shape === 'disc' ? disc : Math.min(disc, dy);
    return Math.min(1, Math.max(0, depth + 0.5));
  };
  return { linear, cover };
}
