const whole = String.raw`[1-9]\d{0,5}`;
const times = `(?:once|twice|${whole} times?)`;

/** How a limit is written in words, for the JSON Schema: `once in 2 years`, `twice a year`, `2 a year`. */
export const yearlyRatePattern = `^(?:${times} a year|${times} in ${whole} (?:years?|months?)|${whole} a year)$`;

/** The forms, as messages list them. */
export const yearlyRateForms = ["once in 2 years", "once a year", "twice a year", "3 times a year", "3 times in 2 years", "once in 18 months", "2 a year"] as const;

const wholeRate = new RegExp(yearlyRatePattern);
const MONTHS_A_YEAR = 12;

/**
 * Reads one of {@link yearlyRateForms} as times a year: 0.5 for `once in 2 years`. A year is one of 365.25 days, a month
 * its twelfth. Equal rates give equal numbers, whether written in years or in months. Null where the text is none of these forms.
 */
export function parseYearlyRate(text: string): number | null {
  const trimmed = text.trim();
  if (!wholeRate.test(trimmed)) return null;
  const [first] = trimmed.split(" ");
  const count = first === "once" ? 1 : first === "twice" ? 2 : Number(first);
  const [, length, unit] = / in (\d+) (year|month)/.exec(trimmed) ?? [null, "1", "year"];
  // Multiplied before the one division, so that 24 months give the very number that 2 years give.
  return unit === "month" ? (count * MONTHS_A_YEAR) / Number(length) : count / Number(length);
}
