import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import { type Drawing, type Drawings, mostTelling } from "../drawings.js";
import { countOf, countText } from "../format.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut, MOST_TABLED } from "./left-out.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

/** Longer tables are folded away under their picture. */
const MOST_OPEN = 6;

type Drill = RuleFinding["drills"][number];

/** What single faults put into the history, and hostile scenes, would have made of each rule. */
export function Drills({ findings, drawings }: { findings: Findings; drawings: Drawings }): JSX.Element {
  return (
    <Section id="drills" heading={partHeadings.drills}>
      <p>
        Each fault was put into one signal, or into all signals of one shared cause, over the whole history, and the rule replayed. Cells tell the firings that this added and
        that were wrong or that nobody can verify, and the wanted moments that were missed because of it.
      </p>
      {findings.rules.map((rule, index) => (
        <RuleDrills rule={rule} index={index} drawing={drawings.drills[index] ?? null} />
      ))}
    </Section>
  );
}

function RuleDrills({ rule, index, drawing }: { rule: RuleFinding; index: number; drawing: Drawing | null }): JSX.Element {
  const faults = [...new Set(rule.drills.map(({ fault }) => fault))];
  const targets = [...new Map(mostTelling(rule.drills, MOST_TABLED).map((drill) => [`${drill.on} ${drill.name}`, drill])).values()];
  const position = (target: Drill, fault: string): number => rule.drills.findIndex((drill) => drill.on === target.on && drill.name === target.name && drill.fault === fault);
  return (
    <>
      <h3>
        <Name of={rule.name} />
      </h3>
      {drawing === null ? null : (
        <figure>
          <figcaption id={`drills-${index + 1}-caption`}>
            What one fault would have done to “<Name of={rule.name} />”: a full square where it would have acted wrongly more often, a dashed one where it would have acted and nobody can
            tell, an open triangle where wanted moments would have been missed; larger for more. Below the heavier line, the fault is in all signals of a shared cause. {drillsText(rule.drills)} The numbers stand in the table below.
          </figcaption>
          <Chart drawing={drawing} labelledBy={`drills-${index + 1}-caption`} />
        </figure>
      )}
      <Folded summary={`What one fault would have done, in ${countOf(targets.length, "row")}`} when={drawing !== null && targets.length > MOST_OPEN}>
        <DataTable
          id={`drills-${index + 1}`}
          stacks
          caption={<>What one fault would have done to “<Name of={rule.name} />”</>}
          columns={[words("Fault in"), ...faults.map(words)]}
          rows={targets.map((target) => [
            <>
              <Name of={target.name} /> ({target.on === "signal" ? "signal" : "shared cause"})
            </>,
            ...faults.map((fault) => {
              const at = position(target, fault);
              return at < 0 ? "not drilled" : <DrillCell drill={rule.drills[at]!} path={`rules.${index}.drills.${at}`} />;
            }),
          ])}
        />
        <LeftOut count={new Set(rule.drills.map(({ on, name }) => `${on} ${name}`)).size - targets.length} file="findings.json" />
      </Folded>
      {rule.hostile.length === 0 ? null : (
        <DataTable
          id={`hostile-${index + 1}`}
          stacks
          caption={<>Hostile scenes for “<Name of={rule.name} />”</>}
          columns={[words("What happens"), words("While"), words(`Would it ${rule.act}?`), prose("Why")]}
          rows={rule.hostile.map((one) => [one.scene, one.state, one.unlocks ? "yes" : "no", one.why])}
        />
      )}
    </>
  );
}

/** The worst of the picture in words. */
function drillsText(drills: readonly Drill[]): string {
  const wrong = drills.filter(({ wrongGained }) => wrongGained > 0).toSorted((a, b) => b.wrongGained - a.wrongGained);
  const [worst] = wrong;
  if (worst === undefined) return "No single fault would have made it act wrongly more often.";
  const causes = wrong.filter(({ on }) => on === "cause").length;
  return `${countOf(wrong.length, "fault")} would have made it act wrongly more often${causes === 0 ? "" : `, ${countText(causes)} of them in a shared cause`}; most of all ${worst.name} ${worst.fault}, ${countText(worst.wrongGained)} times.`;
}

const told = [
  ["wrongGained", "wrong"],
  ["unverifiedGained", "unverified"],
  ["missedGained", "missed"],
] as const;

/** Only what is not nought: most faults do nothing to most rules. */
function DrillCell({ drill, path }: { drill: Drill; path: string }): JSX.Element {
  const shown = told.filter(([key]) => drill[key] > 0);
  if (shown.length === 0) return <>none</>;
  return (
    <>
      {shown.map(([key, word], i) => (
        <>
          {i > 0 ? ", " : ""}
          <Datum from={`${path}.${key}`} as="count" of={drill[key]} /> {word}
        </>
      ))}
    </>
  );
}
