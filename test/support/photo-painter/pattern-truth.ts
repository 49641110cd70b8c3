import { motifDepth, toNearestCopy } from './print-motifs.js';
import type { BandSpec, PrintSpec, StripedGround } from './scene.js';
import { shellDepth, toNearestShell } from './shell-motif.js';

/** Whether the cyclic list of bands, read backwards, is a turn of itself. */
export function isBalanced(bands: readonly BandSpec[]): boolean {
  const n = bands.length;
  // Read backwards, a shaded band starts with the colour it ends with.
  const same = (a: BandSpec, b: BandSpec) =>
    a.colour === (b.shadeTo ?? b.colour) &&
    (a.shadeTo ?? a.colour) === b.colour &&
    Math.abs(a.widthMm - b.widthMm) < 1e-9;
  for (let turn = 0; turn < n; turn++)
    if (bands.every((band, i) => same(band, bands[(turn - i + 2 * n) % n]))) return true;
  return false;
}

const CELL_STEP_MM = 0.1;

/** Share of one whole cell's area under each colour, the print included. */
export function inkShares(ground: StripedGround): Record<string, number> {
  const repeatMm = ground.bands.reduce((sum, band) => sum + band.widthMm, 0);
  const shares: Record<string, number> = {};
  const add = (colour: string, share: number) => {
    shares[colour] = (shares[colour] ?? 0) + share;
  };
  const { motif, print } = ground;
  if (print) return printedShares(ground.bands, repeatMm, print);
  if (!motif) {
    for (const band of ground.bands) add(band.colour, band.widthMm / repeatMm);
    return shares;
  }
  const columns = Math.round(repeatMm / CELL_STEP_MM);
  const rows = Math.round(motif.alongMm / CELL_STEP_MM);
  const each = 1 / (columns * rows);
  const depth = { body: 0, rib: 0 };
  for (let i = 0; i < columns; i++) {
    const u = ((i + 0.5) / columns) * repeatMm;
    const bandColour = colourAt(ground.bands, u);
    for (let j = 0; j < rows; j++) {
      const v = ((j + 0.5) / rows) * motif.alongMm;
      const [x, y] = toNearestShell(motif, repeatMm, u, v);
      shellDepth(motif, x, y, depth);
      add(depth.rib > 0 ? motif.ribColour : depth.body > 0 ? motif.colour : bandColour, each);
    }
  }
  return shares;
}

function printedShares(
  bands: readonly BandSpec[],
  repeatMm: number,
  print: PrintSpec,
): Record<string, number> {
  const shares: Record<string, number> = {};
  const columns = Math.round((print.acrossRepeats * repeatMm) / CELL_STEP_MM);
  const rows = Math.round(print.alongMm / CELL_STEP_MM);
  for (let i = 0; i < columns; i++) {
    const u = ((i + 0.5) / columns) * print.acrossRepeats * repeatMm;
    const ground = colourAt(bands, u % repeatMm);
    for (let j = 0; j < rows; j++) {
      const v = ((j + 0.5) / rows) * print.alongMm;
      let colour = ground;
      for (const one of print.motifs) {
        const [x, y] = toNearestCopy(print, one, repeatMm, u, v);
        if (motifDepth(one, x, y) > 0) colour = one.colour;
      }
      shares[colour] = (shares[colour] ?? 0) + 1 / (columns * rows);
    }
  }
  return shares;
}

function colourAt(bands: readonly BandSpec[], u: number): string {
  let start = 0;
  for (const band of bands) {
    start += band.widthMm;
    if (u < start) return band.colour;
  }
  return bands[0].colour;
}
