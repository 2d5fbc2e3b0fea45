import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../findings/schema.js";
import type { Drawing, Drawings } from "../drawings.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, prose, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

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
  const targets = [...new Map(rule.drills.map((drill) => [`${drill.on} ${drill.name}`, drill])).values()];
  const position = (target: Drill, fault: string): number => rule.drills.findIndex((drill) => drill.on === target.on && drill.name === target.name && drill.fault === fault);
  return (
    <>
      <h3>
        <Name of={rule.name} />
      </h3>
      {drawing === null ? null : (
        <figure>
          <figcaption id={`drills-${index + 1}-caption`}>
            What one fault would have done to “<Name of={rule.name} />”: a full square where it would have acted wrongly, or unverifiably, more often; an open triangle where wanted
            moments would have been missed; larger for more. The numbers stand in the table below.
          </figcaption>
          <Chart drawing={drawing} labelledBy={`drills-${index + 1}-caption`} />
        </figure>
      )}
      <DataTable
        id={`drills-${index + 1}`}
        stacks
        caption="What one fault would have done"
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
      {rule.hostile.length === 0 ? null : (
        <DataTable
          id={`hostile-${index + 1}`}
          stacks
          caption="Hostile scenes"
          columns={[words("What happens"), words("While"), words(`Would it ${rule.act}?`), prose("Why")]}
          rows={rule.hostile.map((one) => [one.scene, one.state, one.unlocks ? "yes" : "no", one.why])}
        />
      )}
    </>
  );
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
