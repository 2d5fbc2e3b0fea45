import { group } from "d3-array";
import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import { drilledPart } from "../charts/drill-matrix.js";
import { type Drawing, type Drawings, mostTelling } from "../drawings.js";
import { countOf, countText } from "../format.js";
import { rowsAt, type Traced, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded, LeftOut, MOST_TABLED } from "./folded.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";

/** Longer tables are folded away under their picture. */
const MOST_OPEN = 6;

type Drill = RuleFinding["drills"][number];

/** Whether anything was tried on a rule. */
export function wasDrilled({ drills, hostile }: RuleFinding): boolean {
  return drills.length + hostile.length > 0;
}

/** What single faults put into the history, and hostile scenes, would have made of each rule. */
export function Drills({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  return (
    <>
      <p>
        Each fault was put into one signal, or into all signals of one shared cause, over the whole history, and the rule replayed. Cells
        tell the firings that this added and that were wrong or that nobody can verify, and the wanted moments that were missed because of
        it.
      </p>
      {rowsAt(whole(findings), "rules")
        .filter(({ of }) => wasDrilled(of))
        .map((rule) => (
          <RuleDrills rule={rule} drawing={drawings.drills[rule.index] ?? null} />
        ))}
    </>
  );
}

function RuleDrills({ rule, drawing }: { rule: Traced<RuleFinding>; drawing: Drawing | null }): JSX.Element {
  const { name, act } = rule.of;
  const id = `drills-${rule.index + 1}`;
  const drills = rowsAt(rule, "drills");
  const faults = [...new Set(drills.map(({ of }) => of.fault))];
  const parts = group(drills, ({ of }) => drilledPart(of));
  const kept = new Set(mostTelling(rule.of.drills, MOST_TABLED));
  const rows = [...parts.values()].flatMap(([first]) => (first !== undefined && kept.has(first.of) ? [first] : []));
  return (
    <>
      <h3>
        <Name of={name} />
      </h3>
      <Picture id={`${id}-caption`} drawing={drawing}>
        What one fault would have done to “<Name of={name} />
        ”: a full square where it would have acted wrongly more often, a dashed one where it would have acted and nobody can tell, an open
        triangle where wanted moments would have been missed; larger for more. Below the heavier line, the fault is in all signals of a
        shared cause. {drillsText(rule.of.drills)} The numbers stand in the table below.
      </Picture>
      <Folded
        summary={`What one fault would have done, in ${countOf(rows.length, "row")}`}
        when={drawing !== null && rows.length > MOST_OPEN}
      >
        <DataTable
          id={id}
          stacks
          caption={
            <>
              What one fault would have done to “<Name of={name} />”
            </>
          }
          rows={rows}
          columns={[
            {
              head: "Fault in",
              cell: ({ of }) => (
                <>
                  <Name of={of.name} /> ({of.on === "signal" ? "signal" : "shared cause"})
                </>
              ),
            },
            ...faults.map((fault) => ({
              head: fault,
              cell: ({ of }: Traced<Drill>) => {
                const drill = parts.get(drilledPart(of))?.find((one) => one.of.fault === fault);
                return drill === undefined ? "not drilled" : <DrillCell drill={drill} />;
              },
            })),
          ]}
        />
        <LeftOut count={parts.size - rows.length} file="findings.json" />
      </Folded>
      <DataTable
        id={`hostile-${rule.index + 1}`}
        stacks
        caption={
          <>
            Hostile scenes for “<Name of={name} />”
          </>
        }
        rows={rowsAt(rule, "hostile")}
        columns={[
          { head: "What happens", path: "scene", as: "text" },
          { head: "While", path: "state", as: "text" },
          { head: `Would it ${act}?`, path: "unlocks", as: "yes or no" },
          { head: "Why", path: "why", as: "text", look: "prose" },
        ]}
      />
    </>
  );
}

/** The worst of the picture in words. */
function drillsText(drills: readonly Drill[]): string {
  const wrong = drills.filter(({ wrongGained }) => wrongGained > 0).toSorted((a, b) => b.wrongGained - a.wrongGained);
  const [worst] = wrong;
  if (worst === undefined) return "No single fault would have made it act wrongly more often.";
  const causes = wrong.filter(({ on }) => on === "cause").length;
  const ofCauses = causes === 0 ? "" : `, ${countText(causes)} of them in a shared cause`;
  const most = `${worst.name} ${worst.fault}, ${countText(worst.wrongGained)} times`;
  return `${countOf(wrong.length, "fault")} would have made it act wrongly more often${ofCauses}; most of all ${most}.`;
}

const told = [
  ["wrongGained", "wrong"],
  ["unverifiedGained", "unverified"],
  ["missedGained", "missed"],
] as const;

/** Only what is not 0: most faults do nothing to most rules. */
function DrillCell({ drill }: { drill: Traced<Drill> }): JSX.Element {
  const shown = told.filter(([key]) => drill.of[key] > 0);
  if (shown.length === 0) return <>none</>;
  return (
    <>
      {shown.map(([key, word], i) => (
        <>
          {i > 0 ? ", " : ""}
          <Datum at={drill} path={key} as="count" /> {word}
        </>
      ))}
    </>
  );
}
