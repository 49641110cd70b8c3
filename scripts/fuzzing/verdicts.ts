/** What came out of all cases: how many of each kind, what was wrong, and the largest memory. */
export class Verdicts {
  private readonly kinds = new Map<string, Map<string, number>>();
  private readonly wrongs: string[] = [];
  private readonly peaks = new Map<string, { mb: number; what: string }>();
  total = 0;

  /** One case of a kind, how it ended, and what was wrong with that, if anything. */
  add(kind: string, ending: string, what: string, wrong: string | null, peakMb: number | null = null): void {
    this.total++;
    const endings = this.kinds.get(kind) ?? new Map<string, number>();
    this.kinds.set(kind, endings.set(ending, (endings.get(ending) ?? 0) + 1));
    if (wrong !== null) {
      this.wrongs.push(`${kind}: ${what}: ${wrong}`);
      console.log(`WRONG ${kind}: ${JSON.stringify(what)}: ${wrong}`);
    }
    if (peakMb !== null && peakMb > (this.peaks.get(kind)?.mb ?? 0))
      this.peaks.set(kind, { mb: peakMb, what });
  }

  get isGood(): boolean {
    return this.wrongs.length === 0;
  }

  print(seed: number): void {
    console.log(`\nSeed ${seed}: ${this.total} cases, ${this.wrongs.length} wrong`);
    for (const [kind, endings] of this.kinds) {
      const list = [...endings].sort((a, b) => b[1] - a[1]).map(([ending, count]) => `${ending} ${count}`);
      const peak = this.peaks.get(kind);
      const memory = peak ? `; most memory ${peak.mb.toFixed(0)} MB (${JSON.stringify(peak.what)})` : '';
      console.log(`  ${kind}: ${list.join(', ')}${memory}`);
    }
    for (const wrong of this.wrongs) console.log(`  wrong: ${JSON.stringify(wrong)}`);
  }
}
