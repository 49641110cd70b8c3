import { readFileSync } from 'node:fs';
import { compiled } from '../../../src/core/lay/fit/compiled.js';
import { firstFit } from '../../../src/core/lay/fit/first-fit.js';
import type { Place } from '../../../src/core/lay/fit/fit-problem.js';
import { shorten, usedOf } from '../../../src/core/lay/fit/shorten.js';
import { seededRandom } from '../../../src/core/math/seeded-random.js';
import { readPackingInstance } from './packing-instance.js';

const FOLDER = new URL('../../../../shared/packing/', import.meta.url);

/** Best published lengths, from the table beside the instances. */
function published(): Map<string, number> {
  const table = readFileSync(new URL('README.md', FOLDER), 'utf8');
  return new Map(
    table
      .split('\n')
      .map((line) => line.split('|').map((cell) => cell.trim()))
      .filter((cells) => Number(cells[5]) > 0)
      .map((cells) => [cells[1], Number(cells[5])]),
  );
}

/**
 * Lengths found on the public instances of strip packing, against the best published, after so many seconds each; of the
 * processor, so that other work on the machine changes nothing. */
export async function packingBench(seconds: number, seed: number, only: string | null): Promise<void> {
  const gaps: number[] = [];
  for (const [name, best] of published()) {
    if (only !== null && !only.split(',').includes(name)) continue;
    const { problem } = readPackingInstance(new URL(`${name}.json`, FOLDER).pathname);
    const began = process.cpuUsage().user;
    const search = compiled(problem);
    const order = problem.items
      .map((item, k) => ({ k, area: problem.shapes[item.choices[0][0].shape].areaMm2 }))
      .sort((a, b) => b.area - a.area)
      .map(({ k }) => k);
    const start = firstFit(search, order, [0]) as Place[];
    const first = usedOf(search, start, 0);
    let rounds = 0;
    const marks: string[] = [];
    const spent = (): number => (process.cpuUsage().user - began) / 1e6;
    let at10 = first;
    const found = await shorten(
      search,
      start,
      seededRandom(seed).uniform,
      () => {
        rounds++;
        return spent() < seconds;
      },
      {
        tell: (places) => {
          if (spent() <= 10) at10 = usedOf(search, places, 0);
          marks.push(spent().toFixed(1));
        },
      },
    );
    const used = usedOf(search, found, 0);
    const gap = (length: number): string => `${((100 * length) / best - 100).toFixed(2)} %`;
    gaps.push((100 * used) / best - 100);
    console.log(
      `${name}: ${used.toFixed(3)} (best ${best}), ${gap(used)} over; first fit ${gap(first)}, at 10 s ${gap(at10)}; ${rounds} rounds, last better at ${marks.at(-1)} s`,
    );
  }
  const mean = gaps.reduce((sum, one) => sum + one, 0) / gaps.length;
  console.log(`on the average ${mean.toFixed(2)} %, at worst ${Math.max(...gaps).toFixed(2)} %`);
}
