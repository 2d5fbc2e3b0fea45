import type { JSX } from "preact";
import type { Findings, RuleFinding } from "../../result/schema.js";
import type { LocalClock } from "../local-time.js";
import type { Drawing, Drawings } from "../drawings.js";
import { Chart } from "./chart.js";
import { partHeadings } from "./contents.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { LocalTime } from "./local-time.js";
import { Name } from "./name.js";
import { Section } from "./section.js";

type Tuning = NonNullable<RuleFinding["tuning"]>;
type Point = Tuning["present"];

/** Other settings of each rule: chosen on the first part of the history, judged on the rest. */
export function Tuning({ findings, drawings, clock }: { findings: Findings; drawings: Drawings; clock: LocalClock }): JSX.Element {
  return (
    <Section id="tuning" heading={partHeadings.tuning}>
      <p>
        Times, rests, quorums and bands were moved, one at a time and in pairs of the best. The settings shown are those to which no other one tried was preferable on the first part of the history;
        what they did on the rest, which had no part in choosing them, stands beside it.
      </p>
      {findings.rules.map((rule, index) => (rule.tuning === null ? null : <RuleTuning rule={rule} tuning={rule.tuning} index={index} drawing={drawings.tuning[index] ?? null} clock={clock} />))}
    </Section>
  );
}

function RuleTuning({ rule, tuning, index, drawing, clock }: { rule: RuleFinding; tuning: Tuning; index: number; drawing: Drawing | null; clock: LocalClock }): JSX.Element {
  const path = `rules.${index}.tuning`;
  const present: (readonly [Point, string])[] = tuning.presentOnFrontier ? [] : [[tuning.present, `${path}.present`]];
  const points = [...present, ...tuning.frontier.map((point, i) => [point, `${path}.frontier.${i}`] as const)];
  return (
    <>
      <h3>
        <Name of={rule.name} />
      </h3>
      <p>{tuning.why}</p>
      {drawing === null ? null : (
        <figure>
          <figcaption id={`tuning-${index + 1}-caption`}>
            Settings of “<Name of={rule.name} />” on the rest of the history: upwards the wrong firings a year, unverified ones taken as wrong; to the right the share missed. The further down and to the left, the better. Full diamond the rule as it is, full triangle what is
            suggested, large rings the others, each with its median delay; a thin line leads to each from what it did on the first part, a small ring; dashed lines the limits. The numbers stand in the table
            below.
          </figcaption>
          <Chart drawing={drawing} labelledBy={`tuning-${index + 1}-caption`} />
        </figure>
      )}
      <DataTable
        id={`tuning-${index + 1}`}
        stacks
        caption={
          <>
            Settings of “<Name of={rule.name} />”, <Datum from={`${path}.tried`} as="count" of={tuning.tried} /> tried; the rest begins at <LocalTime at={tuning.splitAt} clock={clock} />
          </>
        }
        columns={[
          words("Setting"),
          numbers("First part: wrong"),
          numbers("unverified"),
          numbers("late"),
          numbers("missed"),
          numbers("Rest: wrong a year, unverified as wrong"),
          numbers("Rest: share missed"),
          numbers("Rest: median delay"),
        ]}
        rows={points.map(([point, from]) => [
          point.change,
          ...(["wrong", "unverified", "late", "missed"] as const).map((key) => <Datum from={`${from}.train.${key}`} as="count" of={point.train[key]} />),
          <FigureText of={point.heldOut.wrongPerYear} from={`${from}.heldOut.wrongPerYear`} />,
          <FigureText of={point.heldOut.missedShare} from={`${from}.heldOut.missedShare`} />,
          <FigureText of={point.heldOut.delay} from={`${from}.heldOut.delay`} />,
        ])}
      />
    </>
  );
}
