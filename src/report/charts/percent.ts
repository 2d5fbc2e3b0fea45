/** A share of the width as an SVG length, to a tenth of a per cent; cut to the width. */
export function percent(share: number): string {
  return `${Math.round(Math.min(1, Math.max(0, share)) * 1000) / 10}%`;
}
