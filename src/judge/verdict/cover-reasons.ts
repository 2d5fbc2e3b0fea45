import { DateTime } from "luxon";
import { zoneOf } from "../../ground/zone.js";
import type { RuleFigures } from "../evidence/figures.js";
import type { Reason } from "../../result/rules.js";
import { listText } from "../rule/words.js";

/** What a verdict needs to know about the days it rests on. */
export interface CoverInput {
  readonly figures: RuleFigures;
  /** The end of the period judged, epoch milliseconds, and the zone of its days. */
  readonly judgedUntil: number;
  readonly timeZone: string;
}

/** Each weekday must have been seen this often before a rule is cleared: four weeks. Our own choice. */
const LEAST_OF_EACH_WEEKDAY = 4;

/** A verdict must be looked at again after this many days: one season says little about the next. Our own choice. */
const LOOK_AGAIN_DAYS = 92;

const weekdayNames = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

/** Which days the verdict rests on, whether they are enough, and for what and how long it holds. */
export function coverReasons(input: CoverInput): Reason[] {
  const { weekdays, days } = input.figures.evidence.covers;
  const rare = weekdayNames.filter((_, i) => (weekdays[i] ?? 0) < LEAST_OF_EACH_WEEKDAY);
  const fewest = Math.min(...weekdayNames.map((_, i) => weekdays[i] ?? 0));
  return [
    {
      code: "days-seen",
      effect: rare.length > 0 ? "open" : "clears",
      text:
        rare.length > 0
          ? `Fewer than ${LEAST_OF_EACH_WEEKDAY} were seen of ${rare.length === weekdayNames.length ? "each weekday" : listText(rare)}; a clear verdict takes at least four weeks.`
          : `Every weekday was seen at least ${fewest} times.`,
      measured: fewest,
      limit: LEAST_OF_EACH_WEEKDAY,
      unit: "days",
    },
    { code: "holds-for", effect: "noted", text: holdsText(input), measured: days, limit: null, unit: "days" },
  ];
}

/** The months a verdict holds for, and the day on which to look at it again. */
function holdsText({ figures, judgedUntil, timeZone }: CoverInput): string {
  const { months } = figures.evidence.covers;
  const seen = months.length === 0 ? "No whole day was seen" : `Seen: ${monthsText(months)}`;
  return (
    `${seen}. It holds for months like those. It cannot tell of other seasons, of arrivals that no sensor and no diary noticed, or of what a diary copied from the sensors hides. ` +
    lookAgainText(judgedUntil, timeZone)
  );
}

/** When to look at a verdict again: `Look again by 1 July 2026, and at once when …`. */
export function lookAgainText(judgedUntil: number, timeZone: string): string {
  const day = DateTime.fromMillis(judgedUntil, { zone: zoneOf(timeZone) }).plus({ days: LOOK_AGAIN_DAYS }).toFormat("d MMMM yyyy", { locale: "en-GB" });
  return `Look again by ${day}, and at once when a sensor, its band or the rule changes.`;
}

/** `October 2026`, `March 2026 to May 2026`, or a list where months are missing in between. */
export function monthsText(months: readonly string[]): string {
  const inOrder = [...months].sort();
  const runs: { first: DateTime; last: DateTime }[] = [];
  for (const month of inOrder) {
    const at = DateTime.fromFormat(month, "yyyy-MM", { zone: "utc" });
    const run = runs.at(-1);
    if (run !== undefined && run.last.plus({ months: 1 }).equals(at)) run.last = at;
    else runs.push({ first: at, last: at });
  }
  const name = (at: DateTime): string => at.toFormat("MMMM yyyy", { locale: "en-GB" });
  return runs.map(({ first, last }) => (first.equals(last) ? name(first) : `${name(first)} to ${name(last)}`)).join(", ");
}
