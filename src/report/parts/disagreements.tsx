import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { amountText, countText } from "../format.js";
import type { Drawings } from "../drawings.js";
import { weekCells } from "../charts/week-grid.js";
import type { LocalClock } from "../local-time.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { LeftOut, MOST_TABLED } from "./left-out.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

/** So many are shown a subject; findings.json lists more. */
const SHOWN = 3;

/** Where signals contradicted each other, the reference without them, or the diary: longest first. */
export function Disagreements({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  const { disagreements, diary } = findings;
  const pairs = disagreements.flatMap((one, index) => one.pairs.flatMap((pair, at) => (pair.count === 0 ? [] : [{ subject: one.subject, pair, from: `disagreements.${index}.pairs.${at}` }])));
  return (
    <Section id="disagreements" heading={partHeadings.disagreements}>
      <DataTable
        id="disagreements-subjects"
        caption="How often the signals of a subject said different things"
        columns={[words("Subject"), numbers("Times"), numbers("Of these within a minute"), numbers("Hours in all")]}
        rows={disagreements.slice(0, MOST_TABLED).map((one, index) => [
          <Name of={one.subject} />,
          <Datum of={one.count} from={`disagreements.${index}.count`} as="count" />,
          <Datum of={one.brief} from={`disagreements.${index}.brief`} as="count" />,
          <Datum of={one.hours} from={`disagreements.${index}.hours`} as="amount" />,
        ])}
      />
      <DataTable
        id="disagreements-longest" stacks
        caption={`The longest, at most ${SHOWN} a subject`}
        columns={[words("Subject"), words("From"), words("For"), words("Said on"), words("Said off"), words("Most likely")]}
        rows={disagreements.slice(0, MOST_TABLED).flatMap((one, index) =>
          one.list.slice(0, SHOWN).map((window, at) => [<Name of={one.subject} />, <LocalTime at={window.from} clock={clock} />, <Datum of={window} from={`disagreements.${index}.list.${at}`} as="span" />, <Names of={window.saidOn} />, <Names of={window.saidOff} />, window.reference]),
        )}
      />
      <LeftOut count={disagreements.length - MOST_TABLED} file="findings.json" />
      {pairs.length === 0 ? null : (
        <DataTable
          id="disagreements-pairs" stacks
          caption="Two sensors that differ, and nobody else to tell which is wrong: one of the two has a fault, and neither is charged with it"
          columns={[words("Subject"), words("Sensors"), numbers("Times"), numbers("Hours"), numbers("In 30 days")]}
          rows={pairs.slice(0, MOST_TABLED).map(({ subject, pair, from }) => [
            <Name of={subject} />,
            <Names of={pair.signals} />,
            <Datum of={pair.count} from={`${from}.count`} as="count" />,
            <Datum of={pair.hours} from={`${from}.hours`} as="amount" />,
            <FigureText of={pair.perMonth} from={`${from}.perMonth`} bare />,
          ])}
        />
      )}
      <LeftOut count={pairs.length - MOST_TABLED} file="findings.json" />
      {drawings.week === null ? null : (
        <figure>
          <figcaption id="week-caption">
            Phantoms and missed turns of all signals by hour and day of the week, in the site’s time: the larger the square, the more. {weekText(findings, clock)}
          </figcaption>
          <Chart drawing={drawings.week} labelledBy="week-caption" />
        </figure>
      )}
      <h3>Against the diary</h3>
      {diary.conflicts.count === 0 ? (
        <p>No signal contradicts the diary beyond lag.</p>
      ) : (
        <DataTable
          id="disagreements-diary" stacks
          caption={`Signals against the diary, beyond lag: ${countText(diary.conflicts.count)} times, ${amountText(diary.conflicts.hours)} h; the longest. Either may be mistaken.`}
          columns={[words("Signal"), words("Said"), words("From"), words("For"), words("Diary entry")]}
          rows={diary.conflicts.list.slice(0, 3 * SHOWN).map((one, at) => [<Name of={one.signal} />, one.said, <LocalTime at={one.from} clock={clock} />, <Datum of={one} from={`diary.conflicts.list.${at}`} as="span" />, <><Name of={one.file} />, line <Datum of={one.line} from={`diary.conflicts.list.${at}.line`} as="count" /></>])}
        />
      )}
    </Section>
  );
}

/** The picture in words: how many, and the hours that hold most of them. */
function weekText(findings: Findings, clock: LocalClock): string {
  const cells = weekCells(findings, clock);
  const most = cells.toSorted((a, b) => b.count - a.count).slice(0, SHOWN);
  const told = most.map(({ day, hour, count }) => `${clock.weekdays[day]?.long ?? ""} from ${String(hour).padStart(2, "0")}:00 (${countText(count)})`);
  return `${countText(cells.reduce((sum, { count }) => sum + count, 0))} in all; most in the hours of ${told.join(", ")}.`;
}
