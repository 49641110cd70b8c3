import type { ShellMotif } from './scene.js';

const HALF_OPENING = 1.12;
const RIB_STEP = 0.28;

/** Signed depth (mm, about a distance) inside the shell and inside its ribs, at a point in its own axes. */
export interface ShellDepth {
  body: number;
  rib: number;
}

/**
 * A fan about its hinge: x across, y towards the rim, the centre of its height at the origin.
 * It has a mirror line along y and no half-turn, so the print points one way.
 */
export function shellDepth(motif: ShellMotif, x: number, y: number, depth: ShellDepth): void {
  const height = motif.heightMm;
  const reach = height * 0.92;
  const fromHinge = y + height * 0.5 - height * 0.06;
  const r = Math.sqrt(x * x + fromHinge * fromHinge);
  const theta = Math.abs(Math.atan2(x, fromHinge));
  const rim = reach * (0.97 + 0.04 * Math.abs(Math.cos((Math.PI * theta) / RIB_STEP)));
  const fan = Math.min(rim - r, r * Math.sin(Math.min(1.5, HALF_OPENING - theta)));
  const foot = Math.min(height * 0.16 - Math.abs(x), height * 0.07 - Math.abs(fromHinge));
  depth.body = Math.max(fan, foot);
  const between = theta / RIB_STEP + 0.5;
  const off = (between - Math.floor(between) - 0.5) * RIB_STEP;
  const line = height * 0.018 - Math.abs(off) * r;
  depth.rib = Math.min(line, r - height * 0.2, reach * 0.9 - r, fan - height * 0.03);
}

/** Nearest shell to a cloth point: its offset (x, y) from that shell's centre. Shells do not overlap. */
export function toNearestShell(
  motif: ShellMotif,
  repeatMm: number,
  u: number,
  v: number,
): readonly [number, number] {
  const column = Math.round((u - motif.atMm) / repeatMm);
  const x = u - motif.atMm - column * repeatMm;
  const along = v - column * motif.drop * motif.alongMm;
  return [x, along - Math.round(along / motif.alongMm) * motif.alongMm];
}
