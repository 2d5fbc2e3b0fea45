import type { JSX } from "preact";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Name } from "./name.js";
import { sentenceAfterVerdict } from "./sentence.js";
import type { RuleFinding } from "../../result/rules.js";

const counts = [
  ["Firings", "firings.count"],
  ["Right", "firings.right"],
  ["Wrong", "firings.wrong"],
  ["Unverified", "firings.unverified"],
  ["Wanted", "wanted.count"],
  ["Served", "wanted.served"],
  ["Late", "wanted.late"],
  ["Missed", "wanted.missed"],
] as const;

/**
 * What a verdict rests on over all periods of its rule, and what this period alone would have said; nothing where
 * there is no other period.
 */
export function Cumulated({ rule }: { rule: Traced<RuleFinding> }): JSX.Element | null {
  const cumulated = tracedAt(rule, "cumulated");
  if (cumulated === null) return null;
  const { name, verdict } = rule.of;
  const { periodAlone } = cumulated.of;
  return (
    <>
      <p>
        Over all periods together: {verdict}. This period alone: {periodAlone.verdict}.{" "}
        {sentenceAfterVerdict({ ...rule.of, ...periodAlone })}
      </p>
      <DataTable
        id={`months-rule-${rule.index + 1}`}
        caption={
          <>
            What the verdict on “<Name of={name} />” rests on, period by period
          </>
        }
        rows={rowsAt(cumulated, "periods")}
        columns={[
          { head: "Period", path: "label", as: "name", total: "All periods" },
          ...counts.map(([head, path]) => ({ head, path, as: "count", total: <Datum at={cumulated} path={path} as="count" /> }) as const),
          { head: "Days seen", path: "yearsSeen", as: "days", total: <Datum at={cumulated} path="yearsSeen" as="days" /> },
        ]}
      />
      <dl class="terms">
        <dt>Wrong a year, unverified as wrong</dt>
        <dd>
          <Datum at={cumulated} path="wrongPerYear.unverifiedAsWrong" as="figure" />
        </dd>
        <dt>Wrong a year, unverified as right</dt>
        <dd>
          <Datum at={cumulated} path="wrongPerYear.unverifiedAsRight" as="figure" />
        </dd>
        <dt>Share missed</dt>
        <dd>
          <Datum at={cumulated} path="missedShare" as="figure" />
        </dd>
      </dl>
    </>
  );
}
