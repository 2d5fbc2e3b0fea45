/**
 * A confidence as one would say it: `19 times in 20` at 0.95, `93 times in 100` at 0.93. So often does a bound worked out
 * this way hold.
 */
export function certaintyText(confidence: number): string {
  const of = 1 / (1 - confidence);
  const whole = Math.round(of);
  return Math.abs(of - whole) < 1e-6 ? `${whole - 1} times in ${whole}` : `${Number((confidence * 100).toFixed(6))} times in 100`;
}
