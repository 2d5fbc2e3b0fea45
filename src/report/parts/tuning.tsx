import type { JSX } from "preact";
import type { Drawing } from "../charts/drawing.js";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { DataTable } from "./data-table.js";
import { Datum } from "./datum.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Picture } from "./picture.js";
import type { RuleFinding } from "../../result/rules.js";

/** Other settings of a rule: chosen on the first part of the history, judged on the rest. */
export function Tuning({ rule, drawing }: { rule: Traced<RuleFinding>; drawing: Drawing | null }): JSX.Element | null {
  const tuning = tracedAt(rule, "tuning");
  if (tuning === null) return null;
  const id = `tuning-${rule.index + 1}`;
  const present = tuning.of.presentOnFrontier ? [] : [{ ...tracedAt(tuning, "present"), above: tuning }];
  return (
    <>
      <p>
        Times, rests, counts and bands were moved, one at a time and in pairs of the best. Shown are the settings to which no other one tried was
        preferable on the first part of the history; beside them what they did on the rest, which had no part in choosing them.
      </p>
      <p>{tuning.of.why}</p>
      <Picture id={`${id}-caption`} drawing={drawing}>
        Settings of “<Name of={rule.of.name} />” on the rest of the history: upwards the wrong firings a year, unverified ones taken as
        wrong; to the right the share missed. The further down and to the left, the better. Full diamond the rule as it is, full triangle
        what is suggested, large rings the others, each with its median delay; a thin line leads to each from what it did on the first part,
        a small ring; dashed lines the limits. The numbers stand in the table below.
      </Picture>
      <DataTable
        id={id}
        stacks
        caption={
          <>
            Settings of “<Name of={rule.of.name} />
            ”, <Datum at={tuning} path="tried" as="count" /> tried; the rest begins at <LocalTime at={tuning.of.splitAt} />
          </>
        }
        rows={[...present, ...rowsAt(tuning, "frontier")]}
        columns={[
          { head: "Setting", path: "change", as: "text" },
          { head: "First part: wrong", path: "train.wrong", as: "count" },
          { head: "unverified", path: "train.unverified", as: "count" },
          { head: "late", path: "train.late", as: "count" },
          { head: "missed", path: "train.missed", as: "count" },
          { head: "Rest: wrong a year, unverified as wrong", path: "heldOut.wrongPerYear", as: "figure" },
          { head: "Rest: share missed", path: "heldOut.missedShare", as: "figure" },
          { head: "Rest: median delay", path: "heldOut.delay", as: "figure" },
        ]}
      />
    </>
  );
}
