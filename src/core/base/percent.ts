/**
 * Shares of a whole as percentages to so many decimals that sum to exactly what the shares do, rounded: 33.4, 33.3, 33.3. Each is
 * rounded down, and the units that are missing go to those that lost most (method of the largest remainder).
 */
export function percentages(shares: readonly number[], decimals: number): string[] {
  const scale = 100 * 10 ** decimals;
  // A share that is whole but for the computer's rounding has lost nothing.
  const units = shares.map((share) => share * scale + 1e-9);
  const whole = units.map(Math.floor);
  const missing = Math.round(units.reduce((sum, v) => sum + v, 0)) - whole.reduce((sum, v) => sum + v, 0);
  const byLoss = units.map((_, k) => k).sort((p, q) => units[q] - whole[q] - (units[p] - whole[p]));
  for (const k of byLoss.slice(0, Math.max(0, missing))) whole[k]++;
  return whole.map((v) => (v / 10 ** decimals).toFixed(decimals));
}
