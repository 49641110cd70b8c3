import type { Place } from './fit-problem.js';
import { moveItem } from './move-item.js';
import { placesOf, put, type Search, totalDepth } from './search.js';

/** Whether there is work left to be spent; asked once a round. */
export type Spend = () => boolean | Promise<boolean>;

/** Guided local search (arXiv 2509.13329): what overlaps comes to count more, by these factors and most where it is deepest, and what does not, less. */
const GROWS_LEAST = 1.2;
const GROWS_MOST = 2;
const DECAYS = 0.95;

/** Rounds without getting better by this part after which the best so far is gone back to; and how often. */
const PATIENCE = 60;
const BETTER = 0.98;
const STRIKES = 3;

/** Moves overlapping items until none overlaps: true; or until that seems not to come, or work is spent. Then what overlapped least is back. */
export async function separate(search: Search, spend: Spend): Promise<boolean> {
  search.weight.fill(1);
  let best = totalDepth(search);
  let kept = placesOf(search);
  for (let strike = 0; strike < STRIKES; strike++) {
    const before = best;
    let still = 0;
    while (best > 0 && still < PATIENCE) {
      if (!(await spend())) return putBack(search, kept);
      moveAll(search);
      grow(search);
      const total = totalDepth(search);
      still = total < BETTER * best ? 0 : still + 1;
      if (total >= best) continue;
      best = total;
      kept = placesOf(search);
    }
    if (best === 0) return true;
    if (best < BETTER * before) strike = -1;
    putBack(search, kept);
  }
  return false;
}

export function putBack(search: Search, places: readonly Place[]): false {
  places.forEach((place, item) => {
    put(search, item, place);
  });
  return false;
}

/** One round: every item that overlaps, in an order by chance. */
function moveAll(search: Search): void {
  const { items, columns, depth } = search;
  const order: number[] = [];
  for (let item = 0; item < items; item++) {
    for (let k = item * columns; k < (item + 1) * columns; k++)
      if (depth[k] > 0) {
        order.push(item);
        break;
      }
  }
  for (let k = order.length - 1; k > 0; k--) {
    const other = Math.floor(search.random() * (k + 1));
    [order[k], order[other]] = [order[other], order[k]];
  }
  for (const item of order) {
    let overlaps = false;
    for (let k = item * columns; k < (item + 1) * columns && !overlaps; k++) overlaps = depth[k] > 0;
    if (overlaps) moveItem(search, item);
  }
}

function grow({ depth, weight }: Search): void {
  let deepest = 0;
  for (let k = 0; k < depth.length; k++) if (depth[k] > deepest) deepest = depth[k];
  for (let k = 0; k < depth.length; k++)
    if (depth[k] > 0) weight[k] *= GROWS_LEAST + (GROWS_MOST - GROWS_LEAST) * (depth[k] / deepest);
    else if (weight[k] > 1) weight[k] = Math.max(1, weight[k] * DECAYS);
}
