import type { JSX } from "preact";
import { countOf } from "../format.js";
import { rowsAt, type Traced } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { MOST_LISTED } from "./folded.js";
import { Name } from "./name.js";
import type { RuleFinding } from "../../result/rules.js";

/** Moments at which a rule should have acted and did so late or not at all, with what stood in the way. */
export function RuleWanted({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const { name, wanted } = rule.of;
  return (
    <>
      <p>
        Wanted {countOf(wanted.count, "time")}: {wanted.served} served in time, {wanted.late} late, {wanted.missed} missed.
      </p>
      <dl class="terms">
        <dt>Share missed or late, unconfirmed moments taken as missed</dt>
        <dd>
          <Datum at={rule} path="missedShare.unverifiedAsMissed" as="figure in per cent" />
        </dd>
        <dt>Share missed or late, unconfirmed moments taken as served</dt>
        <dd>
          <Datum at={rule} path="missedShare.unverifiedAsServed" as="figure in per cent" />
        </dd>
        <dt>Delay, median</dt>
        <dd>
          <Datum at={rule} path="delay.median" as="figure" />
        </dd>
        <dt>Delay, 90th percentile</dt>
        <dd>
          <Datum at={rule} path="delay.p90" as="figure" />
        </dd>
      </dl>
      <DataTable
        id={`wanted-${rule.index + 1}`}
        stacks
        caption={
          <>
            Late and missed moments of “<Name of={name} />”
          </>
        }
        rows={rowsAt(rule, "wantedList").filter(({ of }) => of.outcome !== "served")}
        columns={[
          { head: "Wanted at", path: "at", as: "time" },
          { head: "Outcome", path: "outcome", as: "text" },
          { head: "Late by", path: "delaySeconds", as: "seconds", none: "never came" },
          { head: "Vouched for", path: "verified", as: "yes or no" },
          {
            head: "What stood in the way",
            look: "prose",
            cell: ({ of: { why } }) => (why === "" ? "not recorded" : why),
          },
        ]}
        cut={{ most: MOST_LISTED, file: "firings.csv" }}
      />
    </>
  );
}
