import { pinholeCamera } from '../../../test/support/photo-painter/pinhole-camera.js';
import type {
  CameraSpec,
  ClothBorder,
  Fold,
  ForeignObject,
  ObjectPart,
  PlacedReference,
} from '../../../test/support/photo-painter/scene.js';
import type { Draw } from './draw.js';

type Point = readonly [number, number];

const SKINS = ['#e3b99a', '#c68a64', '#8a5a3c', '#5a3a28', '#d9a684'] as const;
const TABLES = ['#8a6a48', '#5d4632', '#b9b4aa', '#d9d4c8', '#3d3f42', '#a08c70'] as const;

const along = ([u, v]: Point, deg: number, mm: number): Point => [
  u + mm * Math.cos((deg * Math.PI) / 180),
  v + mm * Math.sin((deg * Math.PI) / 180),
];

/** A hand laid flat, its middle finger's tip at a place and pointing in a direction. */
function hand(draw: Draw, tip: Point, pointsDeg: number): ForeignObject {
  const colour = draw.pick(SKINS);
  const limb = (from: Point, to: Point, radiusFromMm: number, radiusToMm: number): ObjectPart => ({
    kind: 'limb',
    from,
    to,
    radiusFromMm,
    radiusToMm,
    colour,
    mottle: 0.1,
  });
  const palm = along(tip, pointsDeg, -115);
  const wrist = along(palm, pointsDeg, -70);
  const fingers = [-13, -4, 5, 15].map((turn, i) => {
    const length = [-22, 0, -6, -26][i];
    return limb(along(palm, pointsDeg + turn, 25), along(palm, pointsDeg + turn, 115 + length), 9.5, 7.5);
  });
  const thumb = limb(along(palm, pointsDeg + 60, 20), along(palm, pointsDeg + 48, 78), 12, 9);
  return {
    parts: [limb(wrist, palm, 30, 38), limb(along(wrist, pointsDeg, -200), wrist, 32, 29), ...fingers, thumb],
    shadowMm: 9,
  };
}

/** Scissors, half open, their points at a place and pointing in a direction. */
function scissors(draw: Draw, tip: Point, pointsDeg: number): ForeignObject {
  const steel = '#9aa0a6';
  const grip = draw.pick(['#1c1c1e', '#b5541f', '#2f4f6f']);
  const pivot = along(tip, pointsDeg, -105);
  const open = draw.between(5, 13);
  const blade = (turn: number): ObjectPart => ({
    kind: 'limb',
    from: along(pivot, pointsDeg + turn, -12),
    to: along(pivot, pointsDeg + turn, 105),
    radiusFromMm: 9,
    radiusToMm: 1.2,
    colour: steel,
    mottle: 0.25,
  });
  const handle = (turn: number): ObjectPart[] => [
    {
      kind: 'limb',
      from: pivot,
      to: along(pivot, pointsDeg + 180 + turn, 42),
      radiusFromMm: 7,
      radiusToMm: 5,
      colour: grip,
      mottle: 0.08,
    },
    {
      kind: 'ring',
      centre: along(pivot, pointsDeg + 180 + turn, 66),
      radiusMm: 21,
      thicknessMm: 8,
      colour: grip,
      mottle: 0.08,
    },
  ];
  return { parts: [blade(-open), blade(open), ...handle(-22), ...handle(22)], shadowMm: 4 };
}

/** A hand or scissors reaching in from a corner of the photo, its tip this part of the way to the middle. */
export function cornerObject(draw: Draw, camera: CameraSpec): ForeignObject {
  const { clothFromPhoto } = pinholeCamera(camera);
  const x = draw.pick([0.02, 0.98]) * camera.widthPx;
  const y = draw.pick([0.02, 0.98]) * camera.heightPx;
  const corner = clothFromPhoto(x, y);
  const middle = clothFromPhoto(camera.widthPx / 2, camera.heightPx / 2);
  const inward = draw.between(0.12, 0.38);
  const tip: Point = [
    corner[0] + inward * (middle[0] - corner[0]),
    corner[1] + inward * (middle[1] - corner[1]),
  ];
  const deg =
    (Math.atan2(middle[1] - corner[1], middle[0] - corner[0]) * 180) / Math.PI + draw.between(-35, 35);
  return draw.chance(0.5) ? hand(draw, tip, deg) : scissors(draw, tip, deg);
}

/** A fingertip, or the tip of a hand, laid over part of the ruler. */
export function overRuler(draw: Draw, ruler: PlacedReference, camera: CameraSpec): ForeignObject {
  const a = (ruler.angleDeg * Math.PI) / 180;
  const { clothFromPhoto } = pinholeCamera(camera);
  const [u, v] = clothFromPhoto(camera.widthPx / 2, camera.heightPx / 2);
  // The place of the ruler nearest the middle of the photo, moved along it.
  const foot =
    (u - ruler.atMm[0]) * Math.cos(a) +
    (v - ruler.atMm[1]) * Math.sin(a) +
    draw.sign() * draw.between(35, 90);
  const at: Point = [ruler.atMm[0] + foot * Math.cos(a), ruler.atMm[1] + foot * Math.sin(a)];
  const side = draw.sign();
  const deg = ruler.angleDeg + 90 * side + draw.between(-25, 25);
  return hand(draw, along(at, deg, draw.between(4, 14)), deg);
}

/** The table beyond the cloth along one side of the photo; sometimes a selvage there, square to the stripes or along them. */
export function drawBorder(draw: Draw, camera: CameraSpec): ClothBorder {
  const { clothFromPhoto } = pinholeCamera(camera);
  const kind = draw.pick(['square', 'along', 'cut'] as const);
  const normalDeg =
    kind === 'cut'
      ? draw.between(0, 360)
      : (kind === 'square' ? 90 : 0) +
        (draw.chance(0.5) ? 180 : 0) +
        (kind === 'square' ? draw.between(-1.8, 1.8) : draw.between(-0.3, 0.3));
  const a = (normalDeg * Math.PI) / 180;
  const reach: number[] = [];
  for (const x of [0, 0.5, 1])
    for (const y of [0, 0.5, 1]) {
      const [u, v] = clothFromPhoto(x * camera.widthPx, y * camera.heightPx);
      reach.push(u * Math.cos(a) + v * Math.sin(a));
    }
  const far = Math.max(...reach);
  const near = Math.min(...reach);
  return {
    normalDeg,
    atMm: far - draw.between(0.06, 0.22) * (far - near),
    tableColour: draw.pick(TABLES),
    mottle: draw.between(0.02, 0.15),
    selvage:
      kind === 'cut'
        ? null
        : { widthMm: draw.between(4, 12), colour: draw.pick(['#e8e2d4', '#2b2f3a', '#b7a98c']) },
  };
}

export function drawFolds(draw: Draw, camera: CameraSpec): Fold[] {
  const { clothFromPhoto } = pinholeCamera(camera);
  return Array.from({ length: draw.whole(1, 3) }, () => ({
    atMm: clothFromPhoto(draw.between(0.1, 0.9) * camera.widthPx, draw.between(0.1, 0.9) * camera.heightPx),
    angleDeg: draw.between(0, 180),
    widthMm: draw.between(6, 22),
    heightMm: draw.between(0.15, 0.8),
    lightPerSlope: draw.sign() * draw.between(0.5, 1.6),
  }));
}
