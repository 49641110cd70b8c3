import type { Point } from '../math/matrix3.js';
import { middleOf } from '../math/select.js';
import type { Raster } from '../raster/raster.js';
import {
  acrossAt,
  advanced,
  type Course,
  courseBeyond,
  outlineOf,
  type Section,
  sectionsOf,
} from './body-path.js';

/** Places side by side across the body. */
const PLACES = 24;
/** Strips along the known body that tell how it looks. */
const KNOWN = 48;
/** A strip may depart from the body by this much (8-bit levels), or by its own scatter times the second. */
const LEVELS = 14;
const SCATTERS = 3;
/** A body whose strips differ more than this is clear: what shows is the cloth, and says nothing about where the ruler ends. */
const CLEAR = 40;
/** How fast the looked-for colour follows the light along the ruler, a strip. */
const FOLLOW = 0.1;
/** A gap of this length ends the ruler, mm: glare or a hand is longer than a numeral is wide. */
const GAP_MM = 6;
/** Where a tape lies is asked over so much of its length ahead, mm: single places are ink, or cloth of its colour. */
const LOOK_MM = 24;
const LOOK_STEPS = 12;
/** Another place must show so much more of the body, as a part of its width: the sides are then off by about a pixel. */
const CLEARLY = 0.03;
/** The path turns towards it by this part of what would reach it half-way: one step alone knows little. */
const TOWARDS = 0.3;
/** A tape does not turn faster, radians for each mm: a curl of 20 mm radius. */
const SHARPEST = 1 / 20;
/** One section in so many mm: between them a curl of 20 mm radius bends by less than a sixth of one. */
const KEPT_MM = 5;
/** Places beside either side that must not look like the body. */
const BESIDE = 3;

/**
 * The outline drawn out, both ways along the ruler, as far as its body goes on: ticks that are worn, blurred or covered end the part that
 * was read, not the ruler, and what is left of it would be taken for cloth. Strips square to the ruler are compared with
 * those inside the outline, the median over places across the body, which numerals and ticks do not move. A tape is followed where it turns.
 *
 * @param picture Copy of the photo, `shrink` picture px to one of its own.
 * @param outline In picture px: along one long side, then back along the other, as many points each.
 */
export function wholeRuler(
  picture: Raster<Uint8Array>,
  shrink: number,
  outline: readonly Point[],
  pxPerMm: number,
): readonly Point[] {
  const sections = sectionsOf(outline);
  const known: Float64Array[] = [];
  for (let k = 0; k < KNOWN; k++) {
    const colour = stripColour(picture, shrink, sectionAt(sections, (k + 0.5) / KNOWN));
    if (colour) known.push(colour);
  }
  if (known.length < KNOWN / 4) return outline;
  const apart = known.slice(1).map((colour, k) => distance(colour, known[k]));
  const scatter = middleOf(Float64Array.from(apart), apart.length);
  if (scatter > CLEAR / SCATTERS) return outline;
  const limit = Math.max(LEVELS, SCATTERS * scatter);
  const body = { picture, shrink, limit, pxPerMm };
  // A curve's own line is sure in its middle only.
  const middle = sections.length === 2 ? 1 : sections.length >> 1;
  const lengthMm = (some: readonly Section[]): number =>
    some
      .slice(1)
      .reduce((sum, { mid: [x, y] }, i) => sum + Math.hypot(x - some[i].mid[0], y - some[i].mid[1]), 0) /
    pxPerMm;
  const onwards = (some: readonly Section[], colour: Float64Array): Section[] => {
    const kept = some.slice(0, middle + 1);
    return beyond(body, kept, colour, lengthMm(some.slice(middle)));
  };
  const after = onwards(sections, known[known.length - 1]);
  const before = onwards([...sections].reverse(), known[0]);
  const kept = sections.length === 2 ? sections : [sections[middle]];
  return outlineOf([...before.reverse(), ...kept, ...after]).filter(notBetween);
}

interface Body {
  readonly picture: Raster<Uint8Array>;
  readonly shrink: number;
  /** Levels by which a strip may depart from the body. */
  readonly limit: number;
  readonly pxPerMm: number;
}

/** Sections of the body beyond its last known one, over so many mm at least. */
function beyond(
  body: Body,
  sections: readonly Section[],
  colourAtEnd: Float64Array,
  leastMm: number,
): Section[] {
  const { picture, shrink, limit, pxPerMm } = body;
  const usual = Float64Array.from(colourAtEnd);
  const most = (Math.hypot(picture.width, picture.height) * shrink) / pxPerMm;
  let course = courseBeyond(sections, pxPerMm);
  const passed: Section[] = [];
  let seen = Math.round(leastMm);
  for (let mm = 1; mm < most; mm++) {
    course = steered(body, course, usual);
    const { section } = course;
    passed.push(section);
    const colour = stripColour(picture, shrink, section);
    if (colour === null) {
      // Out of the picture: on to where the last corner is out, too.
      const width = (2 * Math.hypot(...section.half)) / pxPerMm;
      for (let on = 0; on < width; on++) {
        course = advanced(course, 0);
        passed.push(course.section);
      }
      return thinned(passed);
    }
    if (distance(colour, usual) > limit) {
      if (mm - seen > GAP_MM) break;
      continue;
    }
    seen = Math.max(seen, mm);
    for (let c = 0; c < 3; c++) usual[c] += FOLLOW * (colour[c] - usual[c]);
  }
  return thinned(passed.slice(0, seen));
}

/** Sections 1 mm apart are more than an outline needs. */
const thinned = (sections: readonly Section[]): Section[] =>
  sections.filter((_, i) => i % KEPT_MM === KEPT_MM - 1 || i === sections.length - 1);

/** One step on: in its own curve, turned towards the body where that lies beside it. */
function steered(body: Body, course: Course, usual: Float64Array): Course {
  const width = 2 * Math.hypot(...course.section.half);
  const offPx = offsetAhead(body, course, usual) * width;
  const change = (TOWARDS * offPx) / ((LOOK_MM / 2) * body.pxPerMm);
  // Half vectors point to the left of the way ahead or to its right.
  const [hx, hy] = course.section.half;
  const side = Math.sign(course.ahead[0] * hy - course.ahead[1] * hx);
  const turn = Math.max(-SHARPEST, Math.min(SHARPEST, side * change));
  return { ...advanced(course, course.turn + turn), turn: course.turn };
}

/** How far beside its own curve the body lies ahead, as a part of its width, positive towards the side away from its marks. */
function offsetAhead(body: Body, course: Course, usual: Float64Array): number {
  const alike = new Float64Array(3 * PLACES);
  let next = course;
  for (let mm = 1; mm <= LOOK_MM; mm++) {
    next = advanced(next, course.turn);
    if (mm % (LOOK_MM / LOOK_STEPS) === 0) addAlike(body, next.section, usual, alike);
  }
  const shown = (from: number, to: number): number => alike.subarray(from, to).reduce((sum, v) => sum + v, 0);
  const merit = (off: number): number => {
    const from = PLACES + off;
    const to = from + PLACES;
    return shown(from, to) - shown(Math.max(0, from - BESIDE), from) - shown(to, to + BESIDE);
  };
  let best = 0;
  let most = merit(0) + CLEARLY * PLACES * LOOK_STEPS;
  for (let away = 1; away <= PLACES / 2; away++) {
    for (const off of [away, -away]) {
      if (merit(off) <= most) continue;
      most = merit(off);
      best = off;
    }
  }
  return best / PLACES;
}

/** Counts the places from one width beside the section to one width beyond it that look like the body. */
function addAlike(
  { picture, shrink, limit }: Body,
  section: Section,
  usual: Float64Array,
  alike: Float64Array,
): void {
  const { width, height, channels, data } = picture;
  for (let k = 0; k < alike.length; k++) {
    const [px, py] = acrossAt(section, (k + 0.5) / PLACES - 1);
    const x = Math.floor(px / shrink);
    const y = Math.floor(py / shrink);
    if (x < 0 || y < 0 || x >= width || y >= height) continue;
    const i = (y * width + x) * channels;
    const off = Math.max(
      Math.abs(data[i] - usual[0]),
      Math.abs(data[i + 1] - usual[1]),
      Math.abs(data[i + 2] - usual[2]),
    );
    if (off < limit) alike[k]++;
  }
}

/** The section a share of the way along, by the sections' count. */
function sectionAt(sections: readonly Section[], share: number): Section {
  const at = share * (sections.length - 1);
  const i = Math.min(sections.length - 2, Math.floor(at));
  const [p, q] = [sections[i], sections[i + 1]];
  return { mid: between(p.mid, q.mid, at - i), half: between(p.half, q.half, at - i) };
}

const between = (p: Point, q: Point, share: number): Point => [
  p[0] + (q[0] - p[0]) * share,
  p[1] + (q[1] - p[1]) * share,
];

/** Points this near to the line between their neighbours say nothing, px. */
const ON_LINE_PX = 1e-6;

function notBetween([x, y]: Point, i: number, points: readonly Point[]): boolean {
  const [px, py] = points[(i + points.length - 1) % points.length];
  const [qx, qy] = points[(i + 1) % points.length];
  return Math.abs((qx - px) * (y - py) - (qy - py) * (x - px)) > ON_LINE_PX * Math.hypot(qx - px, qy - py);
}

const distance = (p: Float64Array, q: Float64Array): number =>
  Math.max(Math.abs(p[0] - q[0]), Math.abs(p[1] - q[1]), Math.abs(p[2] - q[2]));

/** Median of each channel over places across the body; null where half of them lie outside the picture. */
function stripColour(
  { width, height, channels, data }: Raster<Uint8Array>,
  shrink: number,
  section: Section,
): Float64Array | null {
  const values = [0, 1, 2].map(() => new Float64Array(PLACES));
  let n = 0;
  for (let k = 0; k < PLACES; k++) {
    // A little inside either long side, clear of bevel and shadow.
    const [px, py] = acrossAt(section, 0.1 + (0.8 * (k + 0.5)) / PLACES);
    const x = Math.floor(px / shrink);
    const y = Math.floor(py / shrink);
    if (x < 0 || y < 0 || x >= width || y >= height) continue;
    const i = (y * width + x) * channels;
    for (let c = 0; c < 3; c++) values[c][n] = data[i + c];
    n++;
  }
  return n < PLACES / 2 ? null : Float64Array.from(values, (channel) => middleOf(channel, n));
}
