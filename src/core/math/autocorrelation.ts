import fourier from 'fft-js';

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
  for (const channel of channels) {
    let mean = 0;
    for (let i = 0; i < n; i++) mean += channel[i] / n;
    const padded: number[] = new Array(size).fill(0);
    for (let i = 0; i < n; i++) {
      const v = channel[i] - mean;
      padded[i] = v;
      energy[i + 1] += v * v;
    }
    const power = fourier.fft(padded).map(([re, im]): [number, number] => [re * re + im * im, 0]);
    const correlation = fourier.ifft(power);
    for (let lag = 0; lag < n; lag++) sums[lag] += correlation[lag][0];
  }
  for (let i = 0; i < n; i++) energy[i + 1] += energy[i];
  return sums.map((s, lag) => {
    if (n - lag < n / 8) return 0;
    const head = energy[n - lag];
    const tail = energy[n] - energy[lag];
    return s / Math.max(1e-12, Math.sqrt(head * tail));
  });
}
