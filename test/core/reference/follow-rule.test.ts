import { describe, expect, it } from 'vitest';
import { invert3, type Matrix3, transformPoint } from '../../../src/core/math/matrix3.js';
import { halve } from '../../../src/core/raster/halve.js';
import { fillLumaWhole, lumaOf, partialLuma } from '../../../src/core/raster/luminance.js';
import { type Raster, raster } from '../../../src/core/raster/raster.js';
import { findRuler } from '../../../src/core/reference/find-ruler.js';
import { followRule } from '../../../src/core/reference/follow-rule.js';
import type { TickReading } from '../../../src/core/reference/read-ticks.js';
import { alongTicks } from '../../../src/core/reference/tick-direction.js';
import { sidePlaces } from '../../../src/core/reference/tick-sides.js';
import { pointOnTick, type TickLine } from '../../../src/core/reference/tick-strip.js';
import { stripes } from '../../support/painted-scene.js';
import { paintPhoto } from '../../support/photo-painter/paint-photo.js';
import type { Scene } from '../../support/photo-painter/scene.js';
import { seededRandom } from '../../support/photo-painter/seeded-random.js';

const scene = (tiltDeg: readonly [number, number]): Scene => ({
  name: 'covered rule',
  category: 'test',
  seed: 12,
  expectedOutcome: 'measure',
  cloth: stripes([
    { colour: '#2a3a63', widthMm: 18 },
    { colour: '#ebe2cb', widthMm: 12 },
    { colour: '#bd8738', widthMm: 9 },
  ]),
  reference: { type: 'metal-mm', atMm: [0, 0], angleDeg: 24, heightMm: 0, wear: 0.1 },
  camera: {
    widthPx: 2400,
    heightPx: 1800,
    focal35Mm: 26,
    exifFocal: true,
    exifOrientation: 1,
    distanceMm: 230,
    tiltDeg,
    rollDeg: 8,
    k1: 0,
    aimMm: [0, 0],
  },
  light: { exposure: 0.9, gradient: [0.05, 0], vignette: 0.1, cast: [1, 1, 1], shadows: [] },
  sensor: { blurPx: 0.7, noiseLevels: 2, jpegQuality: 92 },
});

/** A brown slanting bar, so many px wide, over the middle of the picture and somewhat left of it. */
function covered(picture: Raster<Uint8Array>, widthPx: number): Raster<Uint8Array> {
  const data = picture.data.slice();
  for (let y = 0; y < picture.height; y++) {
    const from = Math.round(900 + 0.3 * (y - 900) - widthPx / 2);
    for (let x = from; x < from + widthPx; x++) data.set([150, 104, 80], 3 * (y * picture.width + x));
  }
  return raster(picture.width, picture.height, 3, data);
}

function followed(picture: Raster<Uint8Array>) {
  const part = partialLuma(picture);
  const found = findRuler(part, lumaOf(halve(picture)));
  if (!found.ok) throw new Error(found.refusal.found);
  return { part, before: found.value, after: followRule(part, found.value) };
}

describe('followRule', () => {
  it.each([
    ['straight from above', [1, -1]],
    ['tilted', [9, -11]],
  ] as const)('reads on beyond what covers the middle of a rule, %s', (_, tiltDeg) => {
    const { picture, truth } = paintPhoto(scene(tiltDeg));
    const { before, after } = followed(covered(picture, 380));
    const span = ({ fit }: TickReading): number => fit.marks[fit.marks.length - 1].k - fit.marks[0].k;
    expect(span(after)).toBeGreaterThan(1.4 * span(before));
    // Numbers and places agree with the plane that the photo was painted from.
    const clothFromPhoto = invert3(truth.homography_cloth_mm_to_photo_px.flat() as unknown as Matrix3);
    const depth = (after.line.depthFrom + after.line.depthTo) / 2;
    const inCloth = ({ x }: { readonly x: number }) =>
      transformPoint(clothFromPhoto, pointOnTick(after.line, x, depth));
    const { marks } = after.fit;
    const [a, b] = [inCloth(marks[0]), inCloth(marks[marks.length - 1])];
    const millimetres = span(after);
    for (const mark of marks) {
      const [x, y] = inCloth(mark);
      const along = ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / millimetres;
      expect(Math.abs(along - (mark.k - marks[0].k))).toBeLessThan(0.06);
    }
  });

  it('lays the line along the rule: ticks stand square on it in the cloth', () => {
    const { picture, truth } = paintPhoto(scene([9, -11]));
    const { part, after } = followed(covered(picture, 380));
    const clothFromPhoto = invert3(truth.homography_cloth_mm_to_photo_px.flat() as unknown as Matrix3);
    const at = (s: number, depth: number) =>
      transformPoint(clothFromPhoto, pointOnTick(after.line, s, depth));
    const { marks } = after.fit;
    const depth = (after.line.depthFrom + after.line.depthTo) / 2;
    const [a, b] = [at(marks[0].x, depth), at(marks[marks.length - 1].x, depth)];
    const along = Math.atan2(b[1] - a[1], b[0] - a[0]);
    fillLumaWhole(part);
    const places = sidePlaces(part.luma, after);
    const leans = places.flatMap((foot, i) => {
      const tip = places[i + 1];
      if (tip?.k !== foot.k) return [];
      const [p, q] = [at(foot.s, foot.depth), at(tip.s, tip.depth)];
      const turn = Math.atan2(q[1] - p[1], q[0] - p[0]) - along;
      return [((turn * 180) / Math.PI + 720) % 180];
    });
    const mean = leans.reduce((sum, lean) => sum + lean, 0) / leans.length;
    expect(leans.length).toBeGreaterThan(50);
    expect(Math.abs(mean - 90)).toBeLessThan(0.12);
  });
});

const PITCH = 10;
const DEPTHS = [24, 34, 48];
const rankOf = (k: number): number => (k % 10 === 0 ? 2 : k % 5 === 0 ? 1 : 0);

/**
 * A level rule of 1600 x 160 px with a tick every 10 px from its foot at y = 40 down, slanting by so many px along for each px of depth; none
 * from number 60 to 79, and from 80 on as long as numbers `missed` further are.
 */
function strip(slant: number, missed: number): Raster<Uint8Array> {
  const random = seededRandom(8);
  const [width, height] = [1600, 160];
  const data = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const depth = y + 0.5 - 40;
      const k = Math.round((x + 0.5 - slant * depth) / PITCH);
      const off = x + 0.5 - slant * depth - k * PITCH;
      const length = DEPTHS[rankOf(k < 60 ? k : k + missed)];
      const shown = depth > 0 && depth < length && (k < 60 || k >= 80);
      const ink = shown ? 120 * Math.exp(-0.5 * (off / 1.2) ** 2) : 0;
      data[y * width + x] = Math.round(190 - ink + 2 * random.gaussian());
    }
  return raster(width, height, 1, data);
}

/** As read from its first 60 ticks by a line whose ticks point straight down. */
function readingOf(): TickReading {
  const line: TickLine = {
    x: 0,
    y: 40,
    alongX: 1,
    alongY: 0,
    tickAngle: Math.PI / 2,
    tickTurn: 0,
    bend: 0,
    fromPx: 5,
    toPx: 1595,
    seen: { fromPx: 5, toPx: 590 },
    depthFrom: 4,
    depthTo: 20,
  };
  const ticks = Array.from({ length: 56 }, (_, i) => {
    const k = i + 2;
    return { k, s: k * PITCH, from: 0, to: DEPTHS[rankOf(k)] };
  });
  return {
    line,
    comb: { a: PITCH, b: 0, c: 0 },
    fit: {
      comb: { a: PITCH, b: 0, c: 0 },
      marks: ticks.map(({ k, s }) => ({ k, x: s })),
      rms: 0.1,
      presence: 1,
    },
    hierarchy: { unit: 'mm', pitchMm: 1, phase: 0, period: 10, rankOf, explained: 1, lead: 50 },
    ticks,
    followed: ticks,
    levelSdPx: Infinity,
    grid: [],
    score: 50,
  };
}

function lastMark(luma: Raster<Uint8Array>): number {
  const { width, height } = luma;
  const rgb = new Uint8Array(3 * width * height).map((_, i) => luma.data[Math.floor(i / 3)]);
  const { fit } = followRule(partialLuma(raster(width, height, 3, rgb)), readingOf());
  return fit.marks[fit.marks.length - 1].k;
}

/** The same reading with places along its line counted from so many px before. */
function countedFromBefore(reading: TickReading, px: number): TickReading {
  const { line, comb, fit } = reading;
  const moved = <T extends { readonly s: number }>(list: readonly T[]): T[] =>
    list.map((t) => ({ ...t, s: t.s + px }));
  return {
    ...reading,
    line: {
      ...line,
      x: line.x - px * line.alongX,
      y: line.y - px * line.alongY,
      fromPx: line.fromPx + px,
      toPx: line.toPx + px,
      seen: { fromPx: line.seen.fromPx + px, toPx: line.seen.toPx + px },
    },
    comb: { ...comb, b: comb.b + px },
    fit: {
      ...fit,
      comb: { ...fit.comb, b: fit.comb.b + px },
      marks: fit.marks.map(({ k, x }) => ({ k, x: x + px })),
    },
    ticks: moved(reading.ticks),
    followed: moved(reading.followed),
  };
}

describe('marks of a short stretch', () => {
  it.each([0, 1500, 4000])('stay where they are, counted from %d px before them', (px) => {
    const random = seededRandom(3);
    const whole = readingOf();
    // Ends are followed to a px or so: of two dozen ticks they tell a bend of some px per hundred.
    const ragged = whole.followed.slice(0, 26).map((t) => ({
      ...t,
      from: t.from + Math.round(2 * random.gaussian()),
      to: t.to + Math.round(2 * random.gaussian()),
    }));
    const marks = whole.fit.marks.slice(0, 26);
    const reading = { ...whole, ticks: ragged, followed: ragged, fit: { ...whole.fit, marks } };
    const luma = strip(0, 0);
    const rgb = new Uint8Array(3 * luma.width * luma.height).map((_, i) => luma.data[Math.floor(i / 3)]);
    const part = partialLuma(raster(luma.width, luma.height, 3, rgb));
    const { line, fit } = followRule(part, countedFromBefore(reading, px));
    for (const { k, x } of fit.marks.slice(0, 26)) {
      const [markX, markY] = pointOnTick(line, x, (line.depthFrom + line.depthTo) / 2);
      expect(Math.abs(markX - k * PITCH)).toBeLessThan(0.3);
      expect(Math.abs(markY - 52)).toBeLessThan(3);
    }
  });
});

describe('marks beyond a gap', () => {
  it('count where their lengths go on as they did', () => {
    expect(lastMark(strip(0, 0))).toBeGreaterThan(150);
  });

  it.each([1, -1, 2])('do not count where lengths show that %d were miscounted', (missed) => {
    expect(lastMark(strip(0, missed))).toBeLessThan(60);
  });
});

describe('alongTicks', () => {
  it.each([0.03, -0.06, 0.1])('turns to ticks that slant by %d', (slant) => {
    const luma = strip(slant, 0);
    let reading = readingOf();
    // Read at the middle of the common depths, which are to stay.
    const depth = 12;
    const moved = (k: number): number => k * PITCH + slant * depth;
    reading = {
      ...reading,
      ticks: reading.ticks.map((t) => ({ ...t, s: moved(t.k) })),
      fit: { ...reading.fit, marks: reading.fit.marks.map(({ k }) => ({ k, x: moved(k) })) },
    };
    for (let round = 0; round < 2; round++) reading = { ...reading, line: alongTicks(luma, reading) };
    const { line } = reading;
    const found = Math.PI / 2 - line.tickAngle - 300 * line.tickTurn;
    expect(Math.abs(Math.tan(found) - slant)).toBeLessThan(0.003);
    const [x, y] = pointOnTick(line, 300, depth);
    expect(Math.hypot(x - 300, y - 52)).toBeLessThan(0.05);
  });
});
