import fourier, { type Phasor } from 'fft-js';

/** Squared size of each frequency of a real signal, 0 up to half its length in cycles; the length a power of two. */
export function powerSpectrum(signal: ArrayLike<number>): Float64Array {
  const values: (number | Phasor)[] = Array.from(signal);
  fourier.fftInPlace(values);
  const spectrum = values as Phasor[];
  return Float64Array.from(
    { length: signal.length >> 1 },
    (_, b) => spectrum[b][0] ** 2 + spectrum[b][1] ** 2,
  );
}
