import type {
  CameraSpec,
  Crease,
  LightSpec,
  SensorSpec,
  SoftShadow,
} from '../../../test/support/photo-painter/scene.js';
import type { Draw } from './draw.js';

/** How hard a photo may be. */
export interface Hardness {
  readonly tiltDeg: readonly [number, number];
  /** Chance of a lens that bends lines. */
  readonly lens: number;
  /** Chance of each: strong gradient, shadow, creases, colour cast, noise, blur, strong compression. */
  readonly trouble: number;
  /** Chance of each thing that is not cloth or ruler: a hand or scissors, the table, a second ruler; and of folds. */
  readonly clutter: number;
}

export const EASY: Hardness = { tiltDeg: [0, 5], lens: 0.2, trouble: 0.1, clutter: 0.04 };
export const USUAL: Hardness = { tiltDeg: [0, 8], lens: 0.4, trouble: 0.25, clutter: 0.15 };
export const HARD: Hardness = { tiltDeg: [7, 20], lens: 0.8, trouble: 0.6, clutter: 0.4 };

const NEAREST_CAMERA_MM = 180;

/** Mostly phone photos of 8 to 16 megapixels. */
function pictureSize(draw: Draw): readonly [number, number] {
  const kind = draw.uniform();
  const megapixels =
    kind < 0.1 ? draw.between(3.1, 5) : kind < 0.16 ? 24 : draw.pick([8, 10, 12, 12, 12, 16]);
  const aspect = draw.pick([4 / 3, 4 / 3, 4 / 3, 3 / 2, 16 / 9]);
  const short = Math.round(Math.sqrt((megapixels * 1e6) / aspect) / 2) * 2;
  const long = Math.round((short * aspect) / 2) * 2;
  return draw.chance(0.6) ? [long, short] : [short, long];
}

/** A camera that sees shortMm of cloth along the photo's shorter side. */
export function drawCamera(draw: Draw, shortMm: number, hardness: Hardness): CameraSpec {
  const [widthPx, heightPx] = pictureSize(draw);
  const pxPerMm = Math.min(widthPx, heightPx) / shortMm;
  const pxPerFocal = Math.hypot(widthPx, heightPx) / 43.267;
  // Nobody holds a phone nearer than this: its shadow would be on the cloth.
  const fits = [23, 24, 26, 26, 26, 28, 28, 35, 52].filter(
    (f) => (f * pxPerFocal) / pxPerMm > NEAREST_CAMERA_MM,
  );
  const focal35Mm = draw.pick(fits);
  const focalPx = focal35Mm * pxPerFocal;
  const tilt = draw.between(...hardness.tiltDeg);
  const way = draw.between(0, 2 * Math.PI);
  return {
    widthPx,
    heightPx,
    focal35Mm,
    exifFocal: draw.chance(0.75),
    exifOrientation: draw.pick([1, 1, 1, 3, 6, 8]),
    distanceMm: focalPx / pxPerMm,
    tiltDeg: [tilt * Math.cos(way), tilt * Math.sin(way)],
    rollDeg: draw.between(0, 360),
    k1: draw.chance(hardness.lens) ? draw.between(-0.025, 0.02) : 0,
    aimMm: [draw.between(-80, 80), draw.between(-80, 80)],
  };
}

export function drawLight(draw: Draw, { trouble }: Hardness): LightSpec {
  // 2 : 1 across the photo at its strongest.
  const gradient = draw.chance(trouble) ? draw.between(0.15, 0.33) : draw.between(0, 0.1);
  const way = draw.between(0, 2 * Math.PI);
  const shadow = (): SoftShadow => ({
    at: [draw.between(0, 1), draw.between(0, 1)],
    radii: [draw.between(0.2, 0.55), draw.between(0.15, 0.4)],
    angleDeg: draw.between(0, 180),
    depth: draw.between(0.2, 0.5),
  });
  const crease = (): Crease => ({
    at: [draw.between(0.1, 0.9), draw.between(0.1, 0.9)],
    angleDeg: draw.between(0, 180),
    width: draw.between(0.03, 0.1),
    depth: draw.between(0.05, 0.18),
  });
  const cast: [number, number, number] = draw.chance(trouble)
    ? draw.pick([
        [1.1, 1, 0.7],
        [1.05, 1, 0.82],
        [0.88, 1, 1.1],
        [0.93, 1.02, 0.95],
      ])
    : [draw.between(0.97, 1.03), 1, draw.between(0.94, 1.03)];
  return {
    exposure: draw.chance(trouble) ? draw.between(0.35, 0.6) : draw.between(0.75, 0.95),
    gradient: [gradient * Math.cos(way), gradient * Math.sin(way)],
    vignette: draw.between(0, draw.chance(trouble) ? 0.35 : 0.15),
    cast,
    shadows: draw.chance(trouble) ? Array.from({ length: draw.whole(1, 2) }, shadow) : [],
    creases: draw.chance(trouble) ? Array.from({ length: draw.whole(1, 4) }, crease) : [],
  };
}

export function drawSensor(draw: Draw, { trouble }: Hardness): SensorSpec {
  return {
    blurPx: draw.chance(trouble) ? draw.between(1.1, 2) : draw.between(0.45, 1),
    noiseLevels: draw.chance(trouble) ? draw.between(4, 9) : draw.between(0.8, 3),
    jpegQuality: draw.chance(trouble) ? draw.whole(60, 75) : draw.whole(80, 95),
  };
}
