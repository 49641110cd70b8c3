/** A piece of a mask that hangs together by its sides. Box: x from, y from, x to, y to, the last two excluded. */
export interface Region {
  readonly label: number;
  readonly area: number;
  readonly box: readonly [number, number, number, number];
  /** Places on the frame of the picture. */
  readonly onFrame: number;
}

export interface Regions {
  /** 0 outside, else the label of the region, 1 and up. */
  readonly labels: Int32Array;
  readonly regions: readonly Region[];
}

/** Regions of the places where `inside` holds, largest first. */
export function regionsOf(inside: Uint8Array, width: number, height: number): Regions {
  const labels = new Int32Array(width * height);
  const regions: Region[] = [];
  const queue = new Int32Array(width * height);
  let own = 0;
  const take = (k: number): boolean => {
    if (inside[k] === 0 || labels[k] !== 0) return false;
    labels[k] = own;
    return true;
  };
  for (let start = 0; start < labels.length; start++) {
    if (inside[start] === 0 || labels[start] !== 0) continue;
    const label = regions.length + 1;
    own = label;
    labels[start] = label;
    queue[0] = start;
    let end = 1;
    let onFrame = 0;
    const box = [width, height, 0, 0] as [number, number, number, number];
    for (let next = 0; next < end; next++) {
      const i = queue[next];
      const x = i % width;
      const y = (i - x) / width;
      if (x === 0 || y === 0 || x === width - 1 || y === height - 1) onFrame++;
      box[0] = Math.min(box[0], x);
      box[1] = Math.min(box[1], y);
      box[2] = Math.max(box[2], x + 1);
      box[3] = Math.max(box[3], y + 1);
      if (x > 0 && take(i - 1)) queue[end++] = i - 1;
      if (x < width - 1 && take(i + 1)) queue[end++] = i + 1;
      if (y > 0 && take(i - width)) queue[end++] = i - width;
      if (y < height - 1 && take(i + width)) queue[end++] = i + width;
    }
    regions.push({ label, area: end, box, onFrame });
  }
  return { labels, regions: regions.sort((a, b) => b.area - a.area) };
}

/** A mask of one region with its holes filled: what the ground's places on the frame do not reach from outside. */
export function filledRegion(labels: Int32Array, label: number, width: number, height: number): Uint8Array {
  // One px of ground all round, so that the outside hangs together.
  const w = width + 2;
  const outside = new Uint8Array(w * (height + 2)).fill(1);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) if (labels[y * width + x] === label) outside[(y + 1) * w + x + 1] = 0;
  }
  const reached = regionsOf(outside, w, height + 2).labels;
  const ground = reached[0];
  const mask = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) mask[y * width + x] = reached[(y + 1) * w + x + 1] === ground ? 0 : 1;
  }
  return mask;
}
