/** The known name nearest to one that is not known, by the fewest letters to change; null when none is near. */
export function nearestName(wanted: string, known: readonly string[]): string | null {
  let best: string | null = null;
  // Past a third of the letters, and past two, a name is another name rather than a slip.
  let least = Math.max(2, Math.floor(wanted.length / 3)) + 1;
  for (const name of known) {
    const changes = lettersToChange(wanted.toLowerCase(), name.toLowerCase());
    if (changes < least) [least, best] = [changes, name];
  }
  return best;
}

/** Letters to put in, take out or exchange: Levenshtein's distance, row by row (Wagner and Fischer 1974, doi 10.1145/321796.321811). */
function lettersToChange(from: string, to: string): number {
  let row = Array.from({ length: to.length + 1 }, (_, k) => k);
  for (let i = 1; i <= from.length; i++) {
    const next = [i];
    for (let k = 1; k <= to.length; k++)
      next.push(Math.min(row[k] + 1, next[k - 1] + 1, row[k - 1] + (from[i - 1] === to[k - 1] ? 0 : 1)));
    row = next;
  }
  return row[to.length];
}
