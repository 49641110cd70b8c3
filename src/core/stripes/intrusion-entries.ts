import type { PrintLattice } from './motif-lattice.js';
import type { MotifBox } from './motif-places.js';

/** A motif on a band: over its lower edge (start), its upper one (end), or wholly inside. */
export interface Intrusion {
  /** Index into the stretches given. */
  readonly stretch: number;
  readonly edge: 'start' | 'end' | 'inside';
  readonly alongFromMm: number;
  readonly alongToMm: number;
  /** How far it reaches in from that edge; across all of it if inside. */
  readonly depthMm: number;
}

/** More than this many tell a reader nothing new: those on stretches nearest the origin are kept. */
const MOST = 1000;
/** Less than the wander of an edge is none. */
const LEAST_DEPTH_MM = 0.5;

/**
 * Every motif the lattice foretells (each given as the boxes of its columns), against every band it touches. A motif that covers a band from edge to edge reaches in
 * from both: two entries. Left out where `seenAt` says that its middle was not photographed.
 */
export function intrusionEntries(
  motifs: readonly (readonly MotifBox[])[],
  lattice: PrintLattice,
  repeatMm: number,
  stretches: readonly { readonly startMm: number; readonly endMm: number }[],
  view: { readonly fromVMm: number; readonly toVMm: number },
  seenAt: (uMm: number, vMm: number) => boolean,
): Intrusion[] {
  const across = (lattice.acrossRepeats ?? 0) * repeatMm;
  const found: Intrusion[] = [];
  stretches.forEach(({ startMm, endMm }, stretch) => {
    for (const columns of motifs) {
      const box = aroundAll(columns);
      const first = across > 0 ? Math.ceil((startMm - box.toUMm) / across) : 0;
      const last = across > 0 ? Math.floor((endMm - box.fromUMm) / across) : 0;
      for (let k = first; k <= last; k++) {
        const from = box.fromUMm + k * across;
        const to = box.toUMm + k * across;
        if (Math.min(to, endMm) - Math.max(from, startMm) < LEAST_DEPTH_MM) continue;
        const lift = k * lattice.dropMm;
        // A slanting motif reaches less far along a band than over all of them.
        const { fromVMm, toVMm } = aroundAll(
          columns.filter((c) => c.toUMm + k * across > startMm && c.fromUMm + k * across < endMm),
        );
        const low = Math.ceil((view.fromVMm - toVMm - lift) / lattice.alongMm);
        const high = Math.floor((view.toVMm - fromVMm - lift) / lattice.alongMm);
        for (let j = low; j <= high; j++) {
          const alongFromMm = fromVMm + lift + j * lattice.alongMm;
          const alongToMm = toVMm + lift + j * lattice.alongMm;
          const u = (Math.max(from, startMm) + Math.min(to, endMm)) / 2;
          if (!seenAt(u, (alongFromMm + alongToMm) / 2)) continue;
          const entry = { stretch, alongFromMm, alongToMm };
          const overStart = from < startMm;
          const overEnd = to > endMm;
          if (overStart) found.push({ ...entry, edge: 'start', depthMm: Math.min(to, endMm) - startMm });
          if (overEnd) found.push({ ...entry, edge: 'end', depthMm: endMm - Math.max(from, startMm) });
          if (!overStart && !overEnd) found.push({ ...entry, edge: 'inside', depthMm: to - from });
        }
      }
    }
  });
  if (found.length <= MOST) return found;
  const away = ({ stretch }: Intrusion): number =>
    Math.abs(stretches[stretch].startMm + stretches[stretch].endMm);
  const limit = found.map(away).sort((p, q) => p - q)[MOST];
  return found.filter((one) => away(one) < limit);
}

const aroundAll = (boxes: readonly MotifBox[]): MotifBox => ({
  fromUMm: Math.min(...boxes.map((b) => b.fromUMm)),
  toUMm: Math.max(...boxes.map((b) => b.toUMm)),
  fromVMm: Math.min(...boxes.map((b) => b.fromVMm)),
  toVMm: Math.max(...boxes.map((b) => b.toVMm)),
});
