import type { JSX } from "preact";
import type { Findings } from "../../result/schema.js";
import { rowsAt, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { MOST_TABLED } from "./folded.js";
import { Name, Names } from "./name.js";

/** Signals of one subject side by side, and what they have in common; nothing where there are none. */
export function Siblings({ findings }: { findings: Findings }): JSX.Element | null {
  const place = new Map(findings.signals.map(({ signal }, index) => [signal, index]));
  // Each of two names the other; the pair is shown once.
  const pairs = rowsAt(whole(findings), "signals.*.siblings").filter(({ of, above }) => (place.get(of.signal) ?? Infinity) > above.index);
  const causes = findings.site.sharedCauses.filter(({ signals }) => signals.length > 1);
  if (pairs.length + causes.length === 0) return null;
  return (
    <>
      <h3>Signals side by side</h3>
      <DataTable
        id="siblings"
        stacks
        caption="Signals of the same subject: how far they agree with each other, and beyond chance (kappa)"
        rows={pairs}
        columns={[
          {
            head: "Signals",
            cell: ({ of, above }) => (
              <>
                <Name of={above.of.signal} /> and <Name of={of.signal} />
              </>
            ),
          },
          { head: "Agreeing", path: "agreement", as: "figure" },
          { head: "Kappa", path: "kappa", as: "figure" },
          { head: "Independent?", cell: ({ of }) => <Independent sharedCauses={of.sharedCauses} /> },
        ]}
        cut={{ most: MOST_TABLED, file: "findings.json" }}
      />
      {causes.length === 0 ? null : (
        <>
          <p>What several signals depend on. When it fails, they fail together:</p>
          <ul>
            {causes.map(({ cause, signals }) => (
              <li>
                <Name of={cause} />: <Names of={signals} />
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function Independent({ sharedCauses }: { sharedCauses: readonly string[] }): JSX.Element {
  if (sharedCauses.length === 0) return <>The site file names nothing that both depend on.</>;
  return (
    <>
      <strong>These two are not independent witnesses:</strong> both depend on <Names of={sharedCauses} />. Their agreeing proves less than
      it seems.
    </>
  );
}
