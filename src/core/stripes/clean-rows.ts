import { labFromLinear } from '../colour/lab.js';
import { linearFromByte } from '../colour/srgb.js';
import { median } from '../math/robust.js';
import { middleOf, selectKth } from '../math/select.js';
import type { StraightCloth } from '../rectify/straight-cloth.js';
import type { CrossProfile } from './cross-profile.js';
import { type LightField, logGainAt } from './light-field.js';

/** Columns in which fewer pixels than this agree with the column's median carry motifs. */
const MOTIF_AGREEMENT = 0.8;
/** Where most columns agree closely, too, those that do not carry motifs little different from their band. */
const CLOSE_AGREEMENT = 0.93;
/** Share of the rows that must look alike across a motif belt to be taken for the bare ground. */
const CLEAN_SHARE = 0.12;

/**
 * Where motifs cover most of a band, a column's median is the motif's colour. But the rows between two motifs all show the same
 * bare bands, while rows through a motif differ with the place they cut it: across each belt of doubtful columns the
 * commonest cross section is the ground's. Returns the profile with such belts read from those rows alone; a belt
 * without a common cross section is left as it was.
 */
export function groundProfile(cloth: StraightCloth, light: LightField, profile: CrossProfile): CrossProfile {
  const belts = motifBelts(
    profile,
    Math.ceil(5 / cloth.mmPerColumn),
    Math.max(4, 2 / cloth.mmPerColumn),
    Math.max(6, 4 / cloth.mmPerColumn),
  );
  if (belts.length === 0) return profile;
  const lab = Float32Array.from(profile.lab);
  const linear = Float32Array.from(profile.linear);
  const agreement = Float32Array.from(profile.agreement);
  const sure = sureColours(profile);
  for (const [from, to] of belts) {
    const rows = cleanRows(cloth, light, from, to, sure);
    if (rows === null) continue;
    for (let x = from; x < to; x++) {
      const mean = medianOver(cloth, light, x, rows);
      if (Number.isNaN(mean[0])) continue;
      linear.set(mean, 3 * x);
      lab.set(labFromLinear(mean), 3 * x);
      agreement[x] = Math.max(agreement[x], CLEAN_SHARE);
    }
  }
  return { ...profile, lab, linear, agreement };
}

/**
 * Stretches of columns with motifs. Doubtful columns less than `margin` apart belong together (in the middle of a large motif
 * nearly every pixel is the motif's and nothing seems doubtful); a stretch counts with at least `least` of them (a ragged
 * edge has fewer), and is widened by the margin.
 */
function motifBelts(profile: CrossProfile, margin: number, least: number, wide: number): [number, number][] {
  const { agreement, from, to } = profile;
  const doubtful = closelyDoubtful(profile, wide);
  const belts: [number, number][] = [];
  let start = -1;
  let last = -1;
  let count = 0;
  const close = () => {
    if (count < least) return;
    const belt: [number, number] = [Math.max(from, start - margin), Math.min(to, last + 1 + margin)];
    const before = belts[belts.length - 1];
    if (before && belt[0] <= before[1]) before[1] = belt[1];
    else belts.push(belt);
  };
  for (let x = from; x < to; x++) {
    if (agreement[x] >= MOTIF_AGREEMENT && !doubtful[x]) continue;
    if (start < 0 || x - last > margin) {
      close();
      start = x;
      count = 0;
    }
    last = x;
    count++;
  }
  close();
  return belts;
}

/**
 * Columns that agree less closely than most, `wide` of them or more in a row: pale motifs on a pale band. Nothing where weave or
 * noise leaves few columns that agree closely.
 */
function closelyDoubtful({ closeAgreement, from, to }: CrossProfile, wide: number): Uint8Array {
  const out = new Uint8Array(closeAgreement.length);
  if (median(Array.from(closeAgreement.subarray(from, to))) <= CLOSE_AGREEMENT) return out;
  let start = from;
  for (let x = from; x <= to; x++) {
    if (x < to && closeAgreement[x] < MOTIF_AGREEMENT) continue;
    if (x - start >= wide) out.fill(1, start, x);
    start = x + 1;
  }
  return out;
}

/** Rows of the commonest cross section over columns [from, to), or null when no tenth of the rows is alike. */
function cleanRows(
  cloth: StraightCloth,
  light: LightField,
  from: number,
  to: number,
  sure: readonly Float32Array[],
): number[] | null {
  const { width, height, data } = cloth.picture;
  const columns: number[] = [];
  const columnStep = Math.max(1, Math.floor((to - from) / 48));
  for (let x = from; x < to; x += columnStep) columns.push(x);
  const whole: number[] = [];
  for (let y = 0; y < height; y++) {
    let seen = 0;
    for (const x of columns) seen += cloth.cloth[y * width + x];
    if (seen === columns.length) whole.push(y);
  }
  const rowStep = Math.max(1, Math.floor(whole.length / 140));
  const rows = whole.filter((_, i) => i % rowStep === 0);
  const sections = rows.map((y) => {
    const section = new Float32Array(3 * columns.length);
    columns.forEach((x, k) => {
      const gain = Math.exp(-logGainAt(light, x + 0.5, y + 0.5));
      const i = 3 * (y * width + x);
      // Square root: evens out noise between light and dark.
      for (let c = 0; c < 3; c++) section[3 * k + c] = Math.sqrt(linearFromByte[data[i + c]] * gain);
    });
    return section;
  });
  const n = rows.length;
  const k = Math.round(CLEAN_SHARE * n);
  if (k < 6) return null;
  const distances = sections.map(() => new Float64Array(n));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) {
      distances[i][j] = sectionDistance(sections[i], sections[j]);
      distances[j][i] = distances[i][j];
    }
  }
  const kth = distances.map((d) => selectKth(d.slice(), n, k));
  const least = Math.min(...kth);
  if (!(least < Infinity)) return null;
  // Rows through the widest part of a motif look alike, too, since its rim hardly moves there: not the most alike rows but
  // the most rows alike are the ground's. The reach takes in bare rows but no rim.
  const reach = 1.6 * least;
  const alike = distances.map((d) => d.reduce((count, v) => count + (v <= reach ? 1 : 0), 0));
  // Where a motif's own sides run along the stripes rows through it are as many, but rows that show sure bands alone are bare.
  const enough = 0.5 * Math.max(...alike);
  const bare = sections.map((section, i) => alike[i] >= enough && strangePart(section, sure) < STRANGE_PART);
  const asked = bare.includes(true) ? alike.map((count, i) => (bare[i] ? count : 0)) : alike;
  const best = asked.indexOf(Math.max(...asked));
  return rows.filter((_, i) => distances[best][i] <= reach);
}

/** So little of a section in other colours is noise. */
const STRANGE_PART = 0.03;
/** In square roots of linear light. */
const SAME_ROOT = 0.06;

/** Square roots of the colours that columns without a doubt show, no two alike. */
function sureColours({ linear, agreement, from, to }: CrossProfile): Float32Array[] {
  const found: Float32Array[] = [];
  for (let x = from; x < to; x++) {
    if (agreement[x] < MOTIF_AGREEMENT) continue;
    const root = Float32Array.from(linear.subarray(3 * x, 3 * x + 3), Math.sqrt);
    if (!found.some((one) => isLike(one, 0, root))) found.push(root);
  }
  return found;
}

const isLike = (section: Float32Array, i: number, root: Float32Array): boolean =>
  Math.abs(section[i] - root[0]) + Math.abs(section[i + 1] - root[1]) + Math.abs(section[i + 2] - root[2]) <
  3 * SAME_ROOT;

/** Part of a section in colours that no sure column shows. */
function strangePart(section: Float32Array, sure: readonly Float32Array[]): number {
  let count = 0;
  for (let i = 0; i < section.length; i += 3) if (!sure.some((root) => isLike(section, i, root))) count++;
  return (3 * count) / section.length;
}

/** Mean absolute difference, each capped so that one thread cannot decide. */
function sectionDistance(p: Float32Array, q: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < p.length; i++) {
    const apart = Math.abs(p[i] - q[i]);
    sum += apart < 0.3 ? apart : 0.3;
  }
  return sum / p.length;
}

/** Median of each channel over the rows named in which there is cloth at column x; NaN where hardly any does. */
function medianOver(
  { picture: { width, data }, cloth }: StraightCloth,
  light: LightField,
  x: number,
  rows: readonly number[],
): [number, number, number] {
  const values = [0, 1, 2].map(() => new Float64Array(rows.length));
  let n = 0;
  for (const y of rows) {
    const i = y * width + x;
    if (!cloth[i]) continue;
    const gain = Math.exp(-logGainAt(light, x + 0.5, y + 0.5));
    for (let c = 0; c < 3; c++) values[c][n] = linearFromByte[data[3 * i + c]] * gain;
    n++;
  }
  if (n < 4) return [Number.NaN, Number.NaN, Number.NaN];
  return [middleOf(values[0], n), middleOf(values[1], n), middleOf(values[2], n)];
}
