/** A print shows at least so many figures of about one size, and they make up this part of all that looks like print. */
const FEWEST_FIGURES = 6;
const LEAST_PART = 0.15;
/** Figures of one size: the smallest of them has this part of the largest one's area. */
const ALIKE = 0.6;
/** What is so many times as large as the largest of them came in from outside. */
const TOO_LARGE = 2.5;
/** A figure has this many pixels at least. */
const FEWEST_PIXELS = 5;

/**
 * Takes out of the labels what is no print though it has its colours: a second ruler, a hand's rim, a selvage. Figures of a print
 * are many and alike; what hangs together over several times their area is something that lies on the cloth. Those pixels and
 * their neighbours become `unseen`. Prints that hang together all over are left as they are.
 * @param strange label of pixels that are neither band nor print: they hang together with print, and become bare band where they
 * are part of a figure.
 */
export function hideForeign(labels: Uint8Array, width: number, unseen: number, strange: number): void {
  hideLarge(labels, width, unseen);
  for (let i = 0; i < labels.length; i++) if (labels[i] === strange) labels[i] = 0;
}

function hideLarge(labels: Uint8Array, width: number, unseen: number): void {
  const components = componentsOf(labels, width, unseen);
  const sizes = components.map((c) => c.length).filter((n) => n >= FEWEST_PIXELS);
  sizes.sort((p, q) => q - p);
  const total = sizes.reduce((sum, n) => sum + n, 0);
  const usual = sizes.find((size, i) => {
    const alike = sizes.slice(i).filter((n) => n >= ALIKE * size);
    return alike.length >= FEWEST_FIGURES && alike.reduce((sum, n) => sum + n, 0) >= LEAST_PART * total;
  });
  if (usual === undefined) return;
  const height = labels.length / width;
  for (const component of components) {
    if (component.length <= TOO_LARGE * usual) continue;
    for (const i of component) {
      const x = i % width;
      const y = (i - x) / width;
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++)
        labels.fill(unseen, v * width + Math.max(0, x - 1), v * width + Math.min(width - 1, x + 1) + 1);
    }
  }
}

/** Pixels with print that touch, corners counted. */
function componentsOf(labels: Uint8Array, width: number, unseen: number): number[][] {
  const found: number[][] = [];
  const taken = new Uint8Array(labels.length);
  for (let start = 0; start < labels.length; start++) {
    if (labels[start] === 0 || labels[start] === unseen || taken[start]) continue;
    taken[start] = 1;
    const component = [start];
    for (const i of component) {
      const x = i % width;
      for (let dy = -width; dy <= width; dy += width) {
        for (let dx = x > 0 ? -1 : 0; dx <= (x + 1 < width ? 1 : 0); dx++) {
          const k = i + dy + dx;
          if (k < 0 || k >= labels.length || taken[k] || labels[k] === 0 || labels[k] === unseen) continue;
          taken[k] = 1;
          component.push(k);
        }
      }
    }
    found.push(component);
  }
  return found;
}
