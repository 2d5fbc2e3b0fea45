import { capitalised } from "../../ground/first-letter.js";
import type { JSX } from "preact";
import { sum } from "d3-array";
import type { Findings } from "../../result/findings.js";
import type { Drawings } from "../drawings.js";
import { countOf, countText } from "../format.js";
import { Bays } from "./bays.js";
import { clockNotes } from "./clock-note.js";
import { Compared } from "./compared.js";
import { Cost } from "./cost.js";
import { Disagreements } from "./disagreements.js";
import { Episodes } from "./episodes.js";
import { Fold } from "./fold.js";
import { Ledger } from "./ledger.js";
import { MendFirst } from "./mend-first.js";
import { Method } from "./method.js";
import { hasMonths, Months } from "./months.js";
import { Notes } from "./notes.js";
import { References } from "./references.js";
import { Signals } from "./signals.js";
import { ToConfirm } from "./to-confirm.js";
import { Upkeep, upkeepOf } from "./upkeep.js";

interface Properties {
  readonly findings: Findings;
  readonly drawings: Drawings;
}

interface Part {
  readonly id: string;
  readonly heading: string;
  /** The one number that matters. */
  readonly number: (findings: Findings) => string;
  /** Whether there is anything to say: without, only its name stands, among those with nothing to report. */
  readonly says: (findings: Findings) => boolean;
  readonly body: (properties: Properties) => JSX.Element;
}

const always = (): boolean => true;

/** What belongs to the site and to no single rule, in its order. */
const parts: readonly Part[] = [
  { id: "notes", heading: "Notes on the data", number: ({ notes }) => countOf(notes.length, "note"), says: (findings) => findings.notes.length + clockNotes(findings).length > 0, body: Notes },
  { id: "confirm", heading: "Questions to answer", number: ({ questions }) => countOf(questions.list.length, "question"), says: ({ questions }) => questions.rules.length > 0, body: ToConfirm },
  { id: "mend", heading: "What to mend, in full", number: ({ mend }) => countOf(mend.length, "thing"), says: ({ mend }) => mend.length > 0, body: MendFirst },
  { id: "cost", heading: "A typical month", number: ({ cost }) => countOf(cost.length, "pair of rules", "pairs of rules"), says: ({ cost }) => cost.length > 0, body: Cost },
  { id: "signals", heading: "Sensors in numbers", number: ({ signals }) => countOf(signals.length, "sensor"), says: ({ signals }) => signals.length > 0, body: Signals },
  { id: "references", heading: "What it was checked against", number: ({ references }) => countText(references.length), says: ({ references }) => references.length > 0, body: References },
  { id: "disagreements", heading: "Where sensors disagree", number: ({ disagreements, diary }) => countOf(disagreements.length + diary.conflicts.count, "time"), says: ({ disagreements, diary }) => disagreements.length + diary.conflicts.count > 0, body: Disagreements },
  { id: "upkeep", heading: "Clocks, bands, changes", number: ({ changes }) => countOf(changes.filter(({ changed }) => changed).length, "change"), says: (findings) => Object.values(upkeepOf(findings)).includes(true), body: Upkeep },
  { id: "months", heading: "Earlier months", number: ({ months }) => countOf(months?.earlier.length ?? 0, "month"), says: hasMonths, body: Months },
  { id: "bays", heading: "Bays compared", number: ({ bays }) => countOf(bays.length, "bay"), says: ({ bays }) => bays.length > 1, body: Bays },
  { id: "episodes", heading: "All arrivals and departures", number: ({ episodes }) => countText(episodes.length), says: ({ episodes, phantoms }) => episodes.length + phantoms.length > 0, body: Episodes },
  { id: "compared", heading: "Rules that were only tried", number: ({ tried }) => countOf(tried.length, "rule"), says: ({ tried }) => tried.length > 0, body: Compared },
  { id: "ledger", heading: "Files read", number: ({ ledger }) => `${countText(sum(ledger, ({ setAside }) => setAside))} of ${countText(sum(ledger, ({ read }) => read))} rows set aside`, says: always, body: Ledger },
  { id: "method", heading: "Method, words and marks", number: ({ site }) => `${countText(site.confidence * 100)} % certainty`, says: always, body: Method },
];

/** Everything else, folded, a line each; what has nothing to say is named in one line. */
export function Appendix(properties: Properties): JSX.Element {
  const { findings } = properties;
  const there = parts.filter(({ says }) => says(findings));
  const nothing = parts.filter(({ says }) => !says(findings)).map(({ heading }) => heading.toLowerCase());
  return (
    <section class="appendix" aria-labelledby="more">
      <h2 id="more">Everything else</h2>
      <details class="fold">
        <summary>
          <span>{capitalised(there.map(({ heading }) => heading.toLowerCase()).join(", "))}</span> <b>{countOf(there.length, "part")}</b>
        </summary>
        <div class="folds">
          {there.map(({ id, heading, number, body: Body }) => (
            <Fold id={id} summary={heading} number={number(findings)}>
              <Body {...properties} />
            </Fold>
          ))}
        </div>
      </details>
      {nothing.length === 0 ? null : <p class="nothing">Nothing to report: {nothing.join(", ")}.</p>}
    </section>
  );
}
