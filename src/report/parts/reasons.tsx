import type { JSX } from "preact";
import { heldTogether } from "../format.js";
import { rowsAt, type Traced } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";
import type { RuleFinding } from "../../result/rules.js";

const effectWords = { clears: "passes", open: "not enough evidence", breaks: "fails", noted: "worth knowing" } as const;

/** Why the verdict is what it is: measured numbers against limits. */
export function Reasons({ rule, id }: { rule: Traced<RuleFinding>; id: string }): JSX.Element {
  const reasons = rowsAt(rule, "reasons");
  if (reasons.length === 0) return <p>No reasons were recorded.</p>;
  return (
    <DataTable
      id={id}
      stacks
      caption={
        <>
          Reasons for the verdict on “<Name of={rule.of.name} />”
        </>
      }
      rows={reasons}
      columns={[
        { head: "Reason", look: "prose", cell: ({ of }) => heldTogether(of.text) },
        { head: "Measured", path: "", as: "measured against its limit" },
        { head: "Limit", path: "", as: "limit to what was measured" },
        {
          head: "Effect",
          cell: ({ of: { effect } }) => (
            <span class={`effect ${effect}`}>
              <Mark sense={effect} /> {effectWords[effect]}
            </span>
          ),
        },
      ]}
    />
  );
}
