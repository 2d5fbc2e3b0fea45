import type { JSX } from "preact";
import { countText } from "../format.js";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded, FoldedList } from "./folded.js";
import { Name } from "./name.js";
import type { RuleFinding } from "../../result/rules.js";

type Sets = RuleFinding["cutSets"];

const MOST_OPEN = 4;
/** Rows of the table of sets that suffice; findings.json has the rest. */
const MOST_ROWS = 4;

/**
 * What would make the rule act wrongly, or keep it from acting: by its structure, and by what the others really read.
 */
export function CutSets({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const cutSets = tracedAt(rule, "cutSets");
  const { firing, failing, assumes } = cutSets.of;
  return (
    <>
      <h3>What would make it {rule.of.act} wrongly</h3>
      <SetList
        of={firing}
        head="Lying together, though everything else reads against it"
        none={`no ${firing.upToSize} signals or shared causes lying together would be enough, all others reading against it`}
      />
      <InPractice rule={rule} />
      <dl class="terms">
        <dt>Expected wrong a year, by lying signals</dt>
        <dd>
          each signal by itself: <Datum at={cutSets} path="inPractice.expectedPerYear.independent" as="expected rate" />; with shared
          causes: <Datum at={cutSets} path="inPractice.expectedPerYear.withSharedCauses" as="expected rate" />
        </dd>
        <dt>Expected share missed</dt>
        <dd>
          each signal by itself: <Datum at={cutSets} path="expectedMissedShare.independent" as="expected share" />; with shared causes:{" "}
          <Datum at={cutSets} path="expectedMissedShare.withSharedCauses" as="expected share" />
        </dd>
      </dl>
      <h3>What would keep it from acting</h3>
      <SetList
        of={failing}
        head="Falling silent together, whatever everything else reads"
        none={`no ${failing.upToSize} signals or shared causes falling silent together would be enough`}
      />
      <Folded summary="What is taken for granted in this">
        <p class="aside">{assumes}</p>
      </Folded>
    </>
  );
}

function SetList({ of, head, none }: { of: Sets["firing"]; head: string; none: string }): JSX.Element {
  if (of.sets.length === 0) {
    return (
      <p>
        {head}: {none}.
      </p>
    );
  }
  return (
    <>
      <p>{head}:</p>
      <FoldedList
        items={of.sets.map(({ text }) => text)}
        open={MOST_OPEN}
        summary={(rest) => `${countText(rest)} more, none of them smaller`}
        after={of.count > of.sets.length ? <p class="aside">There are {countText(of.count)} in all; the smallest were kept.</p> : null}
      />
    </>
  );
}

/**
 * The first of the smallest sets: of those that would have sufficed longest, the one that needs fewest false
 * readings.
 */
function fewest({ sets }: Sets["inPractice"]): Sets["inPractice"]["sets"][number] | undefined {
  const size = ({ signals, causes }: Sets["inPractice"]["sets"][number]): number => signals.length + causes.length;
  return sets.toSorted((a, b) => size(a) - size(b))[0];
}

function InPractice({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const inPractice = tracedAt(rule, "cutSets.inPractice");
  const { of } = inPractice;
  const sets = rowsAt(inPractice, "sets");
  const more = of.count > 1 ? `, and ${countText(of.count - 1)} more` : "";
  const wrongHours = <Datum at={inPractice} path="wrongHours" as="hours" />;
  if (sets.length === 0) {
    return (
      <p>
        In the {wrongHours} in which firing would have been wrong, no {of.upToSize === 1 ? "single one" : `${of.upToSize} of them`} would
        have been enough.
      </p>
    );
  }
  return (
    <Folded summary={`Enough at times, the rest holding anyway: ${fewest(of)?.text ?? ""}${more}`}>
      <DataTable
        id={`practice-${rule.index + 1}`}
        stacks
        caption={
          <>
            “<Name of={rule.of.name} />
            ”: what would have been enough, given what all others really read in the {wrongHours} in which firing would have been wrong
          </>
        }
        rows={sets}
        columns={[
          { head: "Lying together", path: "text", as: "text" },
          { head: "Share of that time", path: "share", as: "share" },
          { head: "Hours a month", path: "hoursPerMonth", as: "amount" },
          { head: "Expected wrong a year", path: "expectedPerYear", as: "expected rate" },
        ]}
        cut={{ most: MOST_ROWS, file: "findings.json" }}
      />
      {of.count > sets.length ? <p class="aside">There are {countText(of.count)} in all; those that suffice longest were kept.</p> : null}
    </Folded>
  );
}
