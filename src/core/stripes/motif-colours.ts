import { cie76 } from '../colour/cie76.js';
import { ciede2000 } from '../colour/ciede2000.js';
import { type Lab, labFromLinear } from '../colour/lab.js';
import type { BandPixel } from './band-pixels.js';
import type { PaletteColour } from './stripe-reading.js';

export interface MotifColours {
  readonly motifColours: readonly PaletteColour[];
  /** All colours that motifs show: an index below the palette's length is a band's colour, beyond it a motif colour. */
  readonly labels: readonly number[];
}

/** Inside a motif the four neighbours are this near (CIE76). */
const CALM = 8;
/** Reach of one colour about its middle. */
const REACH = 13;
/** Nearer than this (CIEDE2000) to a band's colour it is that colour: dyes of one cloth are shared by its motifs. */
const LIKE_BAND = 6;
const MOST_COLOURS = 6;

/**
 * Colours of motifs, from pixels inside them: the densest place in CIELAB first, all within reach of it taken out, and so on while a
 * colour holds enough pixels. Pixels at a motif's rim mix two colours and are not asked; where hardly any pixel is inside
 * (fine motifs), all are. `colourAt`: linear colour under even light.
 */
export function motifColoursOf(
  odd: readonly BandPixel[],
  palette: readonly PaletteColour[],
  seen: number,
  colourAt: (x: number, y: number) => readonly [number, number, number],
): MotifColours {
  const inside = odd.filter((p) => isCalm(p, colourAt));
  const asked = inside.length >= 0.1 * odd.length ? inside : odd;
  const enough = Math.max(12, 0.0008 * seen, 0.05 * asked.length);
  const motifColours: PaletteColour[] = [];
  const labels = new Set<number>();
  let left = asked;
  for (let round = 0; round < MOST_COLOURS && left.length >= enough; round++) {
    const centre = densest(left.map((p) => p.lab));
    const members = left.filter((p) => cie76(p.lab, centre) < REACH);
    if (members.length < enough) break;
    const linear: [number, number, number] = [0, 0, 0];
    for (const p of members) for (let c = 0; c < 3; c++) linear[c] += p.linear[c] / members.length;
    const lab = labFromLinear(linear);
    const like = palette.findIndex((p) => ciede2000(p.lab, lab) < LIKE_BAND);
    // Where rims were asked too, what lies between a dye of the motif and the ground is their blend.
    const own = asked !== odd || !isBlend(linear, motifColours, palette);
    if (like >= 0) labels.add(like);
    else if (own) labels.add(palette.length + motifColours.push({ lab, linear }) - 1);
    const taken = new Set(members);
    left = left.filter((p) => !taken.has(p));
  }
  return { motifColours, labels: [...labels] };
}

/** Is the colour (linear light, where blur mixes) within reach of the line from a band's colour to a motif's? */
function isBlend(
  colour: readonly number[],
  motifColours: readonly PaletteColour[],
  palette: readonly PaletteColour[],
): boolean {
  const lab = labFromLinear(colour as [number, number, number]);
  return motifColours.some(({ linear: m }) =>
    palette.some(({ linear: g }) => {
      const size = [0, 1, 2].reduce((s, c) => s + (m[c] - g[c]) ** 2, 0);
      const share = [0, 1, 2].reduce((s, c) => s + (colour[c] - g[c]) * (m[c] - g[c]), 0) / size;
      if (!(share > 0.05 && share < 0.95)) return false;
      const mixed = [0, 1, 2].map((c) => g[c] + share * (m[c] - g[c])) as [number, number, number];
      return ciede2000(labFromLinear(mixed), lab) < LIKE_BAND;
    }),
  );
}

function isCalm(
  { x, y, lab }: BandPixel,
  colourAt: (x: number, y: number) => readonly [number, number, number],
): boolean {
  return [
    [x - 1, y],
    [x + 1, y],
    [x, y - 1],
    [x, y + 1],
  ].every(([nx, ny]) => {
    const [r, g, b] = colourAt(nx, ny);
    // Beyond the picture there is no colour: the pixel is at its rim.
    return r >= 0 && cie76(labFromLinear([r, g, b]), lab) < CALM;
  });
}

/** The fullest cell of a coarse CIELAB grid, refined by the mean of what lies near it. */
function densest(labs: readonly Lab[]): Lab {
  const cell = 8;
  const counts = new Map<string, { n: number; sum: [number, number, number] }>();
  for (const lab of labs) {
    const key = lab.map((v) => Math.floor(v / cell)).join(',');
    const held = counts.get(key) ?? { n: 0, sum: [0, 0, 0] as [number, number, number] };
    held.n++;
    for (let c = 0; c < 3; c++) held.sum[c] += lab[c];
    counts.set(key, held);
  }
  let best: { n: number; sum: [number, number, number] } = { n: 0, sum: [0, 0, 0] };
  for (const held of counts.values()) if (held.n > best.n) best = held;
  let centre: Lab = [best.sum[0] / best.n, best.sum[1] / best.n, best.sum[2] / best.n];
  for (let round = 0; round < 3; round++) {
    const near = labs.filter((l) => cie76(l, centre) < 8);
    if (near.length === 0) break;
    centre = [0, 1, 2].map((c) => near.reduce((s, l) => s + l[c], 0) / near.length) as unknown as Lab;
  }
  return centre;
}
