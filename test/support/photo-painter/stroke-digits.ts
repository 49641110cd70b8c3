/** Digits drawn with a pen: polylines in a box 0.6 wide and 1 high, origin at its lower left corner. */
type Stroke = readonly (readonly [number, number])[];

const arc = (cx: number, cy: number, rx: number, ry: number, fromDeg: number, toDeg: number): Stroke => {
  const steps = Math.max(4, Math.ceil(Math.abs(toDeg - fromDeg) / 24));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const a = ((fromDeg + ((toDeg - fromDeg) * i) / steps) * Math.PI) / 180;
    return [cx + rx * Math.cos(a), cy + ry * Math.sin(a)] as const;
  });
};

const DIGITS: readonly (readonly Stroke[])[] = [
  [arc(0.3, 0.5, 0.28, 0.5, 0, 360)],
  [
    [
      [0.1, 0.8],
      [0.34, 1],
      [0.34, 0],
    ],
  ],
  [[...arc(0.3, 0.72, 0.27, 0.28, 170, -35), [0.02, 0], [0.6, 0]]],
  [[...arc(0.28, 0.76, 0.26, 0.24, 150, -90), ...arc(0.28, 0.26, 0.3, 0.26, 90, -150)]],
  [
    [
      [0.44, 0],
      [0.44, 1],
      [0, 0.3],
      [0.6, 0.3],
    ],
  ],
  [[[0.54, 1], [0.1, 1], [0.06, 0.54], ...arc(0.28, 0.31, 0.29, 0.31, 125, -145)]],
  [[[0.48, 1], ...arc(0.3, 0.31, 0.28, 0.31, 150, 510)]],
  [
    [
      [0.02, 1],
      [0.58, 1],
      [0.2, 0],
    ],
  ],
  [arc(0.3, 0.75, 0.24, 0.25, 90, 450), arc(0.3, 0.26, 0.29, 0.26, 90, 450)],
  [[...arc(0.3, 0.69, 0.28, 0.31, -30, 330), [0.14, 0]]],
];

const ADVANCE = 0.78;

/**
 * Distance from (x, y) to the pen line of a number, in units of the digit's height, the number being centred
 * on the origin and upright along +y. Infinity when far away.
 */
export function distanceToNumber(value: number, x: number, y: number): number {
  const text = String(value);
  const width = ADVANCE * (text.length - 1) + 0.6;
  const px = x + width / 2;
  const py = y + 0.5;
  if (py < -0.4 || py > 1.4 || px < -0.4 || px > width + 0.4) return Number.POSITIVE_INFINITY;
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < text.length; i++) {
    const left = px - i * ADVANCE;
    if (left < -0.4 || left > 1) continue;
    for (const stroke of DIGITS[text.charCodeAt(i) - 48]) best = Math.min(best, toStroke(stroke, left, py));
  }
  return Math.sqrt(best);
}

function toStroke(stroke: Stroke, x: number, y: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 1; i < stroke.length; i++) {
    const [ax, ay] = stroke[i - 1];
    const dx = stroke[i][0] - ax;
    const dy = stroke[i][1] - ay;
    const along = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1)));
    best = Math.min(best, (x - ax - along * dx) ** 2 + (y - ay - along * dy) ** 2);
  }
  return best;
}
