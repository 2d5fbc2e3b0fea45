import type { JSX } from "preact";
import type { Drawing } from "../charts/drawing.js";
import { countOf, countText } from "../format.js";
import { rowsAt, type Traced } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";
import type { RuleFinding } from "../../result/rules.js";

type Drill = RuleFinding["drills"][number];

/** Whether anything was tried on a rule. */
export function wasDrilled({ drills, hostile }: RuleFinding): boolean {
  return drills.length + hostile.length > 0;
}

/** What single faults put into the history, and hostile scenes, would have made of a rule. */
export function Drills({ rule, drawing }: { rule: Traced<RuleFinding>; drawing: Drawing | null }): JSX.Element {
  const { name, act } = rule.of;
  return (
    <>
      <Picture id={`drills-${rule.index + 1}-caption`} drawing={drawing}>
        Each fault was put into one sensor, or into all sensors of one shared cause, over the whole history, and the rule replayed: a full square
        where it would have acted wrongly more often, a dashed one where it would have acted and nobody can tell, an open triangle where an act
        that was needed would have been missed; larger for more. Below the heavier line, the fault is in all sensors of a shared cause.{" "}
        {drillsText(rule.of.drills)} findings.json has the numbers.
      </Picture>
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
