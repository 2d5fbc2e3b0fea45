import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { MOST_TABLED } from "./folded.js";
import { Name } from "./name.js";

/** What to mend, the gravest first, with what it did to each rule. */
export function MendFirst({ findings }: { findings: Findings }): JSX.Element {
  if (findings.mend.length === 0) return <p>Nothing to mend: no sensor, band or clock made a rule act wrongly, or fail, by a fault of its own.</p>;
  return (
    <DataTable
      id="mend-first"
      stacks
      caption="What to mend, the gravest first"
      rows={rowsAt(whole(findings), "mend")}
      columns={[
        { head: "What to do", path: "text", as: "text" },
        { head: "Why", look: "prose", cell: ({ of }) => of.why },
        {
          head: "What it does",
          look: "prose",
          cell: ({ of }) =>
            of.rules.map(({ rule, did }) => (
              <p>
                <Name of={rule} />: {did.join("; ")}.
              </p>
            )),
        },
      ]}
      cut={{ most: MOST_TABLED, file: "findings.json" }}
    />
  );
}
