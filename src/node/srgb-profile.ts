/**
 * Whether an ICC profile only says "sRGB", so that the costly conversion can be left out (it is the slowest part of reading
 * a photo). Judged by what the profile does, not by its name: red, green and blue colorants and the tone curve.
 *
 * Layout: ICC.1:2022, clauses 7.3 (tag table), 10.6 (curv), 10.18 (para), 10.31 (XYZ). The colorants are those of
 * IEC 61966-2-1 adapted to D50.
 */
export function isSrgbProfile(icc: Uint8Array): boolean {
  const view = new DataView(icc.buffer, icc.byteOffset, icc.byteLength);
  try {
    return (
      Object.entries(SRGB_COLORANTS_D50).every(([tag, xyz]) =>
        xyz.every((value, k) => Math.abs(s15Fixed16(view, find(view, tag) + 8 + 4 * k) - value) < 0.002),
      ) &&
      ['rTRC', 'gTRC', 'bTRC'].every((tag) =>
        CURVE_CHECKS.every((x) => Math.abs(curveAt(view, find(view, tag), x) - srgbDecode(x)) < 0.003),
      )
    );
  } catch (error) {
    // A profile of another kind (no such tags) or one cut short: let the full conversion deal with it.
    if (error instanceof RangeError) return false;
    throw error;
  }
}

const SRGB_COLORANTS_D50: Readonly<Record<string, readonly number[]>> = {
  rXYZ: [0.43607, 0.22249, 0.01392],
  gXYZ: [0.38515, 0.71687, 0.09708],
  bXYZ: [0.14307, 0.06061, 0.7141],
};
const CURVE_CHECKS = [0.02, 0.1, 0.25, 0.5, 0.75, 0.9];

/** IEC 61966-2-1, encoded to linear. */
const srgbDecode = (v: number): number => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);

const s15Fixed16 = (view: DataView, at: number): number => view.getInt32(at) / 65536;

const word = (view: DataView, at: number): string =>
  String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));

function find(view: DataView, tag: string): number {
  const count = view.getUint32(128);
  for (let k = 0; k < count; k++) {
    const entry = 132 + 12 * k;
    if (word(view, entry) === tag) return view.getUint32(entry + 4);
  }
  throw new RangeError(`the profile has no ${tag}`);
}

function curveAt(view: DataView, at: number, x: number): number {
  const kind = word(view, at);
  if (kind === 'curv') return sampledCurve(view, at, x);
  if (kind !== 'para') throw new RangeError(`the profile's curve is of the kind ${kind}`);
  return parametricCurve(view, at, x);
}

function sampledCurve(view: DataView, at: number, x: number): number {
  const count = view.getUint32(at + 8);
  if (count === 0) return x;
  if (count === 1) return x ** (view.getUint16(at + 12) / 256);
  const place = x * (count - 1);
  const k = Math.min(count - 2, Math.floor(place));
  const [low, high] = [k, k + 1].map((j) => view.getUint16(at + 12 + 2 * j) / 65535);
  return low + (place - k) * (high - low);
}

/** Types 0, 3 and 4; the others do not occur for sRGB and read as "not sRGB". */
function parametricCurve(view: DataView, at: number, x: number): number {
  const type = view.getUint16(at + 8);
  const [g, a, b, c, d, e, f] = [0, 1, 2, 3, 4, 5, 6].map((k) =>
    k < PARAMETERS[type] ? s15Fixed16(view, at + 12 + 4 * k) : 0,
  );
  if (type === 0) return x ** g;
  if (type === 3 || type === 4) return x >= d ? (a * x + b) ** g + e : c * x + f;
  return Number.NaN;
}

const PARAMETERS: readonly number[] = [1, 3, 4, 5, 7];
