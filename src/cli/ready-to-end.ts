import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/**
 * Leaves nothing behind that could hold the end of the process; to be called once all is written and said. At its end Node waits
 * for background jobs of the optimising compiler, on the very thread that would have to collect garbage for a job that has run
 * out of room: each then waits for the other for ever, a run in some dozens (nodejs/node#54918, open when this was
 * written). So no new jobs from here on, and one whole collection, after which the heap's limits are drawn anew and
 * the jobs under way have all the room they need.
 */
export function readyToEnd(): void {
  setFlagsFromString('--no-opt');
  setFlagsFromString('--expose-gc');
  // The flag counts for contexts made after it.
  runInNewContext('gc')();
}
