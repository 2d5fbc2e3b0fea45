import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Name, Names } from "./name.js";

/** The site's rules beside those that were only tried. */
export function Compared({ findings }: { findings: Findings }): JSX.Element {
  const tried = rowsAt(whole(findings), "tried");
  return (
    <DataTable
      id="compared-rules"
      stacks
      caption="The site's rules, and those that were only tried"
      rows={[...rowsAt(whole(findings), "rules"), ...tried]}
      columns={[
        {
          head: "Rule",
          cell: (rule) => (
            <>
              <Name of={rule.of.name} />
              {tried.includes(rule) ? " (tried)" : ""}
            </>
          ),
        },
        { head: "Act", path: "act", as: "text" },
        { head: "Verdict", path: "verdict", as: "text" },
        { head: "Wrong a year, unverified as wrong", path: "wrongPerYear.unverifiedAsWrong", as: "figure" },
        { head: "Share missed or late", path: "missedShare.unverifiedAsMissed", as: "figure" },
        { head: "Median delay", path: "delay.median", as: "figure" },
        { head: "Can do it alone", cell: ({ of: { singlePoints } }) => <Names of={[...singlePoints.signals, ...singlePoints.causes]} /> },
      ]}
    />
  );
}
