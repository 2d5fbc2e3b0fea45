/** Units of a duration in a site file, largest first, in milliseconds. `m` is left out on purpose: it means metres. */
const unitMs = { d: 86_400_000, h: 3_600_000, min: 60_000, s: 1_000, ms: 1 } as const;

type DurationUnit = keyof typeof unitMs;

/** The order in which the parts of a duration stand: `2h30min`, never `30min2h`. */
const unitsInOrder = ["d", "h", "min", "s", "ms"] as const satisfies readonly DurationUnit[];

const amount = String.raw`\d{1,12}(?:\.\d{1,9})?`;

/** How a duration is written, for the JSON Schema: `20s`, `3min`, `2h 30min`, with a leading minus where allowed. */
export const durationPattern = `^-?(?=\\d)${unitsInOrder.map((unit) => `(?:${amount} ?${unit}(?: (?=\\d))?)?`).join("")}$`;

const wholeDuration = new RegExp(durationPattern);
const oneAmount = new RegExp(`(${amount}) ?(ms|min|s|h|d)`, "g");

/**
 * Reads `20s`, `3min`, `1h`, `2h30min`, `500ms`, `1.5h`, `-90s`. Milliseconds, rounded to whole ones;
 * null where the text is no duration: without a unit, with an unknown one, or with units out of order.
 */
export function parseDurationMs(text: string): number | null {
  const trimmed = text.trim();
  if (!wholeDuration.test(trimmed)) return null;
  let total = 0;
  for (const [, number, unit] of trimmed.matchAll(oneAmount)) total += Number(number) * unitMs[unit as DurationUnit];
  const ms = Math.round(total);
  if (!Number.isSafeInteger(ms)) return null;
  // Plain 0 for "-0s": a negative zero would print and compare oddly.
  return trimmed.startsWith("-") && ms !== 0 ? -ms : ms;
}

/** Says a duration in plain words: `2 min`, `1 h 30 min`, `0 s`, `-1 min 30 s`. Fractions of a millisecond are rounded. */
export function durationText(ms: number): string {
  let rest = Math.abs(Math.round(ms));
  if (rest === 0) return "0 s";
  const parts: string[] = [];
  for (const unit of unitsInOrder) {
    const count = Math.floor(rest / unitMs[unit]);
    if (count === 0) continue;
    parts.push(`${count} ${unit}`);
    rest -= count * unitMs[unit];
  }
  return `${ms < 0 ? "-" : ""}${parts.join(" ")}`;
}
