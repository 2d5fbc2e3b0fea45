import type { JSX } from "preact";
import type { GapFinding } from "../../result/gap.js";
import type { RuleFinding } from "../../result/rules.js";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { Name } from "./name.js";

/** Whether the rule can act wrongly while every sensor tells the truth; nothing where that was not asked. */
export function TruthfulGap({ rule }: { rule: Traced<RuleFinding> }): JSX.Element | null {
  const gap = tracedAt(rule, "gap");
  if (gap === null) return null;
  return (
    <>
      <h3>With every sensor truthful</h3>
      {gap.of.searched ? (
        <>
          <Scene gap={gap} act={rule.of.act} />
          <Limits gap={gap} rule={rule} />
        </>
      ) : (
        <p>This question is open. {gap.of.why}</p>
      )}
    </>
  );
}

/** The smallest scene in words, how close its events must fall together, and how often that comes about. */
function Scene({ gap, act }: { gap: Traced<GapFinding>; act: RuleFinding["act"] }): JSX.Element {
  const scene = tracedAt(gap, "scene");
  if (scene === null) return <p>No gap: it cannot {act} wrongly while every sensor tells the truth in time.</p>;
  const { widthSeconds, perYear } = scene.of;
  return (
    <>
      <p>
        It can {act} wrongly although every sensor tells the truth. The smallest scene: {scene.of.text}
      </p>
      <p>
        {widthSeconds === null ? (
          <>Nothing has to fall together for that.</>
        ) : (
          <>
            The events must fall together within <Datum at={scene} path="widthSeconds" as="seconds" />.
          </>
        )}
        {perYear === null ? (
          <> How often that comes about cannot be said.</>
        ) : (
          <>
            {" "}
            That happens about <Datum at={scene} path="perYear" as="amount" /> times a year, if they have nothing to do with each other.
          </>
        )}
        {act === "lock" || act === "arm" ? ` Every rule that ${act}s has such a gap, as wide as its sensors are late: somebody may come back unnoticed.` : ""}
      </p>
    </>
  );
}

/** Up to which lag of each kind of sensor there is no gap, beside the measured one. */
function Limits({ gap, rule }: { gap: Traced<GapFinding>; rule: Traced<RuleFinding> }): JSX.Element | null {
  const rows = rowsAt(gap, "freeUntil").filter(({ of }) => of.ends !== "gap-anyway");
  if (rows.length === 0) return null;
  const { scene } = gap.of;
  return (
    <Folded summary="How late each kind of sensor may be" when={scene !== null}>
      <DataTable
        id={`rule-${rule.index + 1}-lags`}
        caption={
          <>
            How late the sensors of “<Name of={rule.of.name} />” may tell before it can {rule.of.act} wrongly, the others as measured
          </>
        }
        rows={rows}
        columns={[
          { head: "Kind", path: "kind", as: "text" },
          { head: "Sensors", path: "signals", as: "names" },
          { head: "No gap up to", path: "seconds", as: "seconds", none: "an hour and more" },
          { head: "Measured: up to", path: "measuredSeconds", as: "seconds" },
        ]}
      />
    </Folded>
  );
}
