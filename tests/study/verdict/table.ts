import { shareEstimate } from "../../../src/statistics/share.js";
import type { Mechanism } from "./mechanism.js";
import type { Setting } from "./limits.js";
import type { Answered } from "./worker.js";

/** One row a mechanism: what happens, how it truly is, and what the audits made of it. */
export function studyTable(mechanisms: readonly Mechanism[], answers: readonly Answered[]): string {
  const head = "| what is the matter | what truly happens | breaks | true figure | months | falsely cleared | falsely refused | sound rule cleared |";
  return [head, "| --- | --- | --- | ---: | ---: | ---: | ---: | ---: |", ...mechanisms.map((one) => rowOf(one, answers))].join("\n");
}

function rowOf(mechanism: Mechanism, answers: readonly Answered[]): string {
  const own = (setting: Setting): Answered | undefined => answers.find((one) => one.mechanism === mechanism.id && one.setting === setting);
  const [breaks, keeps, sound] = [own("breaks"), own("keeps"), own("sound")];
  const truth = (breaks ?? keeps)?.truth;
  const figure = truth === undefined ? "" : mechanism.breaks === "missed" ? `${(100 * truth.missedShare).toFixed(0)} % of ${truth.wantedAMonth.toFixed(0)}` : `${truth.wrongPerYear.toFixed(0)} a year`;
  return `| ${[
    `${mechanism.name}${mechanism.unshowable === true ? " **(no history can show it)**" : ""}`,
    mechanism.truly,
    mechanism.breaks === null ? "nothing" : mechanism.breaks === "wrong" ? "wrong" : "missed or late",
    figure,
    (breaks ?? keeps)?.result.months ?? "",
    breaks === undefined ? "–" : counted(breaks.result.cleared, breaks.result.months),
    keeps === undefined ? "–" : counted(keeps.result.refused, keeps.result.months),
    sound === undefined ? "–" : counted(sound.result.cleared, sound.result.months),
  ].join(" | ")} |`;
}

/** `3 of 200, 0.3–4.3 %`: with the exact interval of Clopper and Pearson. */
function counted(count: number, of: number): string {
  const { low, high } = shareEstimate(count, of, 0.95);
  const percent = (share: number): string => (100 * share).toFixed(1);
  return `${count} of ${of}, ${percent(low ?? 0)}–${percent(high ?? 1)} %`;
}

/** The whole page. */
export function studyText(mechanisms: readonly Mechanism[], answers: readonly Answered[], months: number): string {
  const worst = mechanisms.filter((one) => one.unshowable !== true).flatMap(({ id, name }) => {
    const of = answers.find((one) => one.mechanism === id && one.setting === "breaks")?.result;
    return of !== undefined && of.cleared / of.months > MOST_CLEARED ? [`${name} (${((100 * of.cleared) / of.months).toFixed(0)} %)`] : [];
  });
  return `# How often is a verdict wrong? A simulation study

\`npm run study:verdict\` makes months whose truth is known, audits each as a user would, and writes this page: ${months} months a mechanism
(\`npm run study:verdict -- 30\` takes 30). It is seeded and gives the same table every time. The generator (\`tests/study/verdict/\`) shares
nothing with \`simulate\`, not even its random numbers, and it tells the truth by a small evaluator of its own from the events it knows.

A month has 31 days: a household of two, about a hundred arrivals, or a yard of four bays, about 170. Limits stand at 95 % confidence.

- **Falsely cleared**: the rule truly breaks a limit, the true figure of the long run being 1.2 times the limit (exactly the limit for
  repeated looks and for the best of ten; a share above 36 % stands against a limit of 30 %), and the audit says *clear to enable*.
- **Falsely refused**: the rule truly keeps both limits, which are twice its true figures, or it has no fault at all, and the audit
  says *do not enable*. *Not proven yet* is no refusal.
- **Sound rule cleared**: the same months with the limits of the first column and without the fault. Where this is 0, the first column shows nothing.

The intervals are the exact ones of Clopper and Pearson at 95 %. The true figure is that of 120 months, seasons among them: wrong firings a
year, or the share missed or late of so many wanted a month.

${studyTable(mechanisms, answers)}

${worst.length === 0 ? "No mechanism that a history can show is cleared in more than one month of twenty." : `Cleared in more than one month of twenty: ${worst.join("; ")}.`}

## What no history can show

- Seasons that were not seen. A clearance holds for months like those that were.
- What the diary's keeper believes wrongly. The diary is taken as certain; where it repeats what the phone showed, it repeats its errors.
- Arrivals that no sensor sees and nobody writes down.

These are marked in the table, and no figure is promised for them.

The road of design is closed in all of these; where it can be open: [study-by-design.md](study-by-design.md).

## What this does not say

- The faults, their number and the ways of hiding them are inventions, and the share of homes that have them is unknown: the rows must not be averaged.
- Sensors outside the rule are good ones here (one visit in a hundred overseen). Distances lie well inside or well outside their bands.
- Months of the long run are alike but for the seasons.
`;
}

/** The share above which a mechanism is named under the table. */
const MOST_CLEARED = 0.05;
