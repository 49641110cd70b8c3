/** Numbers that come out the same for the same seed on every machine. Passed in, never global. */
export interface SeededRandom {
  /** In [0, 1). */
  uniform(): number;
  /** Mean 0, standard deviation 1. */
  gaussian(): number;
}

/**
 * The sfc32 generator (C. Doty-Humphrey, PractRand), warmed up from one 32-bit seed; normal values by the polar method
 * (Marsaglia and Bray 1964, doi 10.1137/1006063).
 */
export function seededRandom(seed: number): SeededRandom {
  let a = seed | 0;
  let b = 0x9e3779b9 | 0;
  let c = 0x243f6a88 | 0;
  let counter = 1;
  const uniform = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    c |= 0;
    return (sum >>> 0) / 4294967296;
  };
  for (let i = 0; i < 15; i++) uniform();
  // The polar method gives two values at a time.
  let kept = Number.NaN;
  const gaussian = (): number => {
    if (!Number.isNaN(kept)) {
      const value = kept;
      kept = Number.NaN;
      return value;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (square >= 1 || square === 0) continue;
      const stretch = Math.sqrt((-2 * Math.log(square)) / square);
      kept = y * stretch;
      return x * stretch;
    }
  };
  return { uniform, gaussian };
}
