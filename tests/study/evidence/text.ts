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

${short.length === 0 ? "Wherever the conditions hold, the bound lies at or above the truth in at least 95 of 100 histories." : `**Below 95 of 100 although the conditions hold:** ${short.join("; ")}. Everywhere else where they hold, the bound lies at or above the truth in at
least 95 of 100.`}

## What happens in each setting

${settings.map((one) => settingLine(one, results)).join("\n")}

${studyTables(results)}

In the settings without a shared fault, *what the program notices* is a false alarm. The first ${count(MOST_ASKED)} histories of each setting are asked. Below
three months, or 84 days, the program clears no rule by design, whatever it notices.

The household: two people with a vehicle and a phone each, two bays with a meter each; three trips of four are by vehicle, the others on foot;
visitors' vehicles come twenty times a month. The rule unlocks when a meter has turned within 2 min and a phone within 10 min; that is right when a
vehicle and a person came in the last 15 min, or come within ${EARLY_MINUTES} min. Meters lose a vehicle for a moment, phones their network at home; a few are heard
while their owner is out. Two sensors outside the rule watch each bay and each person, and the program works out from them what was true: it is not told.
Each month (31 days; ${auditedMonths(results)} of each household, at most ${12 * BRIEF_YEARS} where the road is closed) is written as exports, read, and followed through the steps of an
audit that lead to the road of design; looks of 3, 6 and 12 months join months and have none in common. *Every look*: the share of years in which none of twelve
monthly looks put the bound below the truth. The true rate is counted from the known events over ${count(LONG_RUN_YEARS)} years. *Something noticed* leaves out what nobody
could confirm: [study-by-design.md](study-by-design.md) asks that. F is divided by the share of time with a vehicle and a person at home, G is not.

How the road is closed, or not, whatever was seen:

${closedLines(results).join("\n")}

In the table of *counting* the same household has a rule that locks when both phones have been away for five minutes, which is wrong while somebody is home;
by design nothing is claimed of it. A phone that loses its network for longer while the other person is out makes it lock wrongly. What is counted is
what the program confirms, and its bound is that of its verdicts: it holds at every look. Where hours are seen seldom, as nights in which the references
sleep, the time confirmed is 24 times the hour seen least, and the bound is so much higher. The true rate is counted over ${count(LONG_RUN_YEARS)} years here too.
The unlocking rule of the first household stands last, by counting alone.

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

/** The months that were followed of a household: the fewest and the most of those that are not brief. */
function auditedMonths({ years, households }: Results): string {
  const months = households.filter(({ brief }) => !brief).map(({ id }) => (years.get(id) ?? []).reduce((sum, { audits }) => sum + audits, 0));
  const [least, most] = [Math.min(...months), Math.max(...months)];
  return least === most ? count(most) : `${count(least)} to ${count(most)}`;
}

function count(number: number): string {
  return number.toLocaleString("en");
}
