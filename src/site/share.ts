const decimals = String.raw`(?:\d{1,9}(?:\.\d{0,9})?|\.\d{1,9})`;
const whole = String.raw`[1-9]\d{0,8}`;

/** How a share is written, for the JSON Schema: `0.02`, `2 %`, `1 in 50`. */
export const sharePattern = `^(?:${decimals}(?: ?%)?|${whole} in ${whole})$`;

const wholeShare = new RegExp(sharePattern);

/** Reads `0.02`, `2 %` or `1 in 50`: a share above 0, up to 1. Null where the text is none of these. */
export function parseShare(text: string): number | null {
  const trimmed = text.trim();
  if (!wholeShare.test(trimmed)) return null;
  const [count, of] = trimmed.split(" in ");
  const share = of !== undefined ? Number(count) / Number(of) : trimmed.endsWith("%") ? Number(trimmed.slice(0, -1)) / 100 : Number(trimmed);
  return share > 0 && share <= 1 ? share : null;
}
