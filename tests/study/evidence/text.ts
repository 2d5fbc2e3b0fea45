import { BRIEF_YEARS, EARLY_MINUTES, LONG_RUN_YEARS } from "./households.js";
import { CONFIDENCE, MOST_ASKED } from "./run-setting.js";
import type { Setting } from "./settings.js";
import { closedLines, shortfalls, studyTables, type Results } from "./tables.js";

/** The whole page. */
export function studyText(results: Results): string {
  const { histories, everyMonth, settings } = results;
  const short = shortfalls(results);
  return `# Do the bounds of the road of design hold? A simulation study

\`npm run study:evidence\` makes histories whose true rate of wrong firings is known, asks the program for its bounds, and writes this page:
${count(histories)} histories a setting (\`npm run study:evidence -- 200\` takes 200, \`-- 200 even,bursts\` only those two). It is seeded and gives the
same tables every time. The generator (\`tests/study/evidence/\`) shares nothing with \`simulate\`.

A rule needs two parts to be on at once. Each part lies now and then, and both lie together more or less often. The bounds say at ${CONFIDENCE * 100} %
confidence how often a year that is at most, from how often each part lay:

- **F** is for parts whose faults share no hour of the day, and is used only where the site file says so.
- **G** is for parts whose faults may share hours.
- The **whole bound** is what the program prints: G and, for a common cause, a tenth of the rarer part's faults.
- **Counting** is the bound from the wrong firings themselves, for one look. F, G and the whole bound hold at every look.
- **Slides** are the estimate beside the bound, and no bound.

A month has 30 days. The looks after 1, 3, 6 and 12 months are looks at one history. *Every look*: the share of the first ${count(everyMonth)} histories in
which none of twelve monthly looks put the bound below the truth. In brackets the exact interval of Clopper and Pearson at 95 %. Ratios are
medians. † marks a bound that is used where a condition of it is not met: there it promises nothing.

${short.length === 0 ? "Wherever the conditions hold, the bound lies at or above the truth in at least 95 of 100 histories." : `**Below 95 of 100 although the conditions hold:** ${short.join("; ")}. A part that was never wrong does not show
whether its faults come in bursts; F takes them to come one by one.`}

## What happens in each setting

${settings.map((one) => settingLine(one, results)).join("\n")}

${studyTables(results)}

In the settings without a shared fault, *what the program notices* is a false alarm. The first ${count(MOST_ASKED)} histories of each setting are asked. Below
three months, or 84 days, the program clears no rule by design, whatever it notices.

The household: two people with a vehicle and a phone each, two bays with a meter each; three trips of four are by vehicle, the others on foot;
visitors' vehicles come twenty times a month. The rule unlocks when a meter has turned within 2 min and a phone within 10 min; that is right when a
vehicle and a person came in the last 15 min, or come within ${EARLY_MINUTES} min. Meters lose a vehicle for a moment, phones their network at home; a few are heard
while their owner is out. Two sensors outside the rule watch each bay and each person, and the program works out from them what was true: it is not told.
Each month (31 days; ${auditedMonths(results)} of them, at most ${12 * BRIEF_YEARS} where the road is closed) is written as exports and audited by itself; looks of 3, 6 and 12 months join audits. The true rate is counted from the known events
over ${count(LONG_RUN_YEARS)} years. F is divided by the share of time with a vehicle and a person at home, G is not.

How the road is closed, or not, whatever was seen:

${closedLines(results).join("\n")}

## What this does not say

- How many homes are like which setting. The rows must not be averaged.
- Whether a site file's statements are true. A common cause three times as common as stated is noticed late or never, and more months only tighten the
  bound around a wrong statement.
- The same bad days and true events that move both parts are guarded against by the conditions alone, and by the three months they need.
`;
}

function settingLine({ id, name, truly }: Setting, { truths }: Results): string {
  return `- **${name}** (\`${id}\`): ${truly} True rate: ${truths.get(id)?.from ?? "not worked out"}.`;
}

/** The most months that were audited of one household. */
function auditedMonths({ years }: Results): number {
  return Math.max(0, ...Array.from(years.values(), (list) => 12 * list.length));
}

function count(number: number): string {
  return number.toLocaleString("en");
}
