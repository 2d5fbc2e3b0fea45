import type { JSX } from "preact";
import type { Findings } from "../../findings/schema.js";
import { amountText, countText, lengthText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { LocalTime } from "./local-time.js";
import { Name, Names } from "./name.js";
import { Section } from "./section.js";

/** So many are shown a subject; findings.json lists more. */
const SHOWN = 3;

/** Where signals contradicted each other, the reference without them, or the diary: longest first. */
export function Disagreements({ findings, clock }: { findings: Findings; clock: LocalClock }): JSX.Element {
  const { disagreements, diary } = findings;
  const length = ({ from, to }: { readonly from: string; readonly to: string }): string => lengthText((Date.parse(to) - Date.parse(from)) / 1000);
  return (
    <Section id="disagreements" heading={partHeadings.disagreements}>
      <DataTable
        id="disagreements-subjects"
        caption="How often the signals of a subject said different things"
        columns={[words("Subject"), numbers("Times"), numbers("Of these within a minute"), numbers("Hours in all")]}
        rows={disagreements.map((one) => [<Name of={one.subject} />, countText(one.count), countText(one.brief), amountText(one.hours)])}
      />
      <DataTable
        id="disagreements-longest" stacks
        caption={`The longest, at most ${SHOWN} a subject`}
        columns={[words("Subject"), words("From"), words("For"), words("Said on"), words("Said off"), words("Most likely")]}
        rows={disagreements.flatMap((one) =>
          one.list.slice(0, SHOWN).map((window) => [<Name of={one.subject} />, <LocalTime at={window.from} clock={clock} />, length(window), <Names of={window.saidOn} />, <Names of={window.saidOff} />, window.reference]),
        )}
      />
      <h3>Against the diary</h3>
      {diary.conflicts.count === 0 ? (
        <p>No signal contradicts the diary beyond lag.</p>
      ) : (
        <DataTable
          id="disagreements-diary" stacks
          caption={`Signals against the diary, beyond lag: ${countText(diary.conflicts.count)} times, ${amountText(diary.conflicts.hours)} h; the longest. Either may be mistaken.`}
          columns={[words("Signal"), words("Said"), words("From"), words("For"), words("Diary entry")]}
          rows={diary.conflicts.list.slice(0, 3 * SHOWN).map((one) => [<Name of={one.signal} />, one.said, <LocalTime at={one.from} clock={clock} />, length(one), `${one.file}, line ${one.line}`])}
        />
      )}
    </Section>
  );
}
