/** Numbers that come out the same for the same seed on every machine. Passed in, never global. */
export interface SeededRandom {
  /** In [0, 1). */
  uniform(): number;
  between(low: number, high: number): number;
  /** Mean 0, standard deviation 1. */
  gaussian(): number;
}

/** The sfc32 generator (C. Doty-Humphrey, PractRand), warmed up from one 32-bit seed. */
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
  const gaussian = (): number => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, gaussian, between: (low, high) => low + (high - low) * uniform() };
}
