/** The value less the whole periods in it: 0 <= result < period, for negative values too. */
export const wrap = (value: number, period: number): number => value - period * Math.floor(value / period);
