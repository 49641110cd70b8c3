import fourier, { type Phasor } from 'fft-js';

/**
 * Normalised autocorrelation of a signal of several channels (given as separate arrays of one length n), lags 0..n-1,
 * by the power spectrum of the zero-padded signal (Wiener-Khinchin). Each lag is divided by what the overlapping parts could
 * give at most, so a perfect repeat has 1 at every lag; lags that leave under an eighth of the signal are 0.
 */
export function autocorrelation(channels: readonly ArrayLike<number>[]): Float64Array {
  const n = channels[0].length;
  let size = 1;
  while (size < 2 * n) size *= 2;
  const sums = new Float64Array(n);
  const energy = new Float64Array(n + 1);
  const power: (number | Phasor)[] = new Array(size).fill(0);
  for (const channel of channels) {
    let mean = 0;
    for (let i = 0; i < n; i++) mean += channel[i] / n;
    const padded: (number | Phasor)[] = new Array(size).fill(0);
    for (let i = 0; i < n; i++) {
      const v = channel[i] - mean;
      padded[i] = v;
      energy[i + 1] += v * v;
    }
    fourier.fftInPlace(padded);
    const spectrum = padded as Phasor[];
    for (let i = 0; i < size; i++)
      power[i] = (power[i] as number) + spectrum[i][0] ** 2 + spectrum[i][1] ** 2;
  }
  // The way back is the way there, over the size: the power of real signals is real and even.
  fourier.fftInPlace(power);
  for (let lag = 0; lag < n; lag++) sums[lag] = (power[lag] as Phasor)[0] / size;
  for (let i = 0; i < n; i++) energy[i + 1] += energy[i];
  return sums.map((s, lag) => {
    if (n - lag < n / 8) return 0;
    const head = energy[n - lag];
    const tail = energy[n] - energy[lag];
    return s / Math.max(1e-12, Math.sqrt(head * tail));
  });
}
