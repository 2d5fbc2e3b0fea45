import type { JSX } from "preact";
import type { Findings } from "../../result/findings.js";
import type { StirsFinding } from "../../result/stirs.js";
import { rowsAt, tracedAt, type Traced, whole } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { Name } from "./name.js";

/** Of sensors that notice only movement: how often each did, and how long it is usual at home that none does. Nothing where there are none. */
export function Stirs({ findings }: { findings: Findings }): JSX.Element | null {
  if (findings.stirs === undefined || findings.stirs.length === 0) return null;
  const site = whole({ stirs: findings.stirs });
  return (
    <>
      {rowsAt(site, "stirs").map((stirs) => (
        <>
          <DataTable
            id={`stirs-${stirs.index + 1}`}
            stacks
            caption="How often each sensor of movement noticed somebody"
            rows={rowsAt(stirs, "signals")}
            columns={[
              { head: "Signal", path: "signal", as: "name" },
              { head: "Times", path: "times", as: "count" },
              { head: "Times in 24 hours at home", path: "timesADayHere", as: "amount" },
            ]}
          />
          <p>
            While <Name of={stirs.of.subject} /> most likely was here (<Datum at={stirs} path="hereHours" as="hours" /> in all), nothing stirred for{" "}
            <Silences at={tracedAt(stirs, "silences.day")} /> by day, and for <Silences at={tracedAt(stirs, "silences.night")} /> by night (22:00 to 06:00). A
            rule that takes silence for an empty house has to wait longer than that.
          </p>
        </>
      ))}
    </>
  );
}

function Silences({ at }: { at: Traced<StirsFinding["silences"]["day"]> }): JSX.Element {
  if (at.of.count === 0) return <>no time that was seen whole</>;
  return (
    <>
      <Datum at={at} path="medianHours" as="hours" /> at the median, in one case of twenty more than <Datum at={at} path="longHours" as="hours" />, at most{" "}
      <Datum at={at} path="longestHours" as="hours" /> (<Datum at={at} path="count" as="count" /> silences)
    </>
  );
}
