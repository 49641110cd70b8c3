/** The value less the whole periods in it: 0 <= result < period, for negative values too. */
export const wrap = (value: number, period: number): number => value - period * Math.floor(value / period);

/** The angle less the whole half turns next to it, radians: -pi/2 to pi/2. Between two it is how far directions without a sense are apart. */
export const halfTurn = (angle: number): number => angle - Math.PI * Math.round(angle / Math.PI);
