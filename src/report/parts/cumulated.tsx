import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { Name } from "./name.js";
import { sentenceAfterVerdict } from "./verdict-sentence.js";

const firings = ["count", "right", "wrong", "unverified"] as const;
const wanted = ["count", "served", "late", "missed"] as const;

interface Properties {
  readonly rule: RuleFinding;
  readonly cumulated: NonNullable<RuleFinding["cumulated"]>;
  readonly index: number;
}

/** What one verdict rests on over all periods of the same rule, and what this period by itself would have said. */
export function Cumulated({ rule, cumulated, index }: Properties): JSX.Element {
  const path = `rules.${index}.cumulated`;
  const { periods, periodAlone } = cumulated;
  const row = (of: Pick<typeof cumulated, "firings" | "wanted" | "yearsSeen">, from: string): JSX.Element[] => [
    ...firings.map((key) => <Datum of={of.firings[key]} from={`${from}.firings.${key}`} as="count" />),
    ...wanted.map((key) => <Datum of={of.wanted[key]} from={`${from}.wanted.${key}`} as="count" />),
    <Datum of={of.yearsSeen} from={`${from}.yearsSeen`} as="days" />,
  ];
  return (
    <>
      <h3 id={`rule-${index + 1}-months`}>
        <Name of={rule.name} />
      </h3>
      <p>
        Over all periods together: {rule.verdict}. This period alone: {periodAlone.verdict}. {sentenceAfterVerdict({ ...rule, ...periodAlone })}
      </p>
      <DataTable
        id={`months-rule-${index + 1}`}
        caption={
          <>
            What the verdict on “<Name of={rule.name} />” rests on, period by period
          </>
        }
        columns={[words("Period"), numbers("Firings"), numbers("Right"), numbers("Wrong"), numbers("Unverified"), numbers("Wanted"), numbers("Served"), numbers("Late"), numbers("Missed"), numbers("Days seen")]}
        rows={periods.map((period, at) => [<Name of={period.label} />, ...row(period, `${path}.periods.${at}`)])}
        total={["All periods", ...row(cumulated, path)]}
      />
      <dl class="terms">
        <dt>Wrong a year, unverified as wrong</dt>
        <dd>
          <FigureText of={cumulated.wrongPerYear.unverifiedAsWrong} from={`${path}.wrongPerYear.unverifiedAsWrong`} />
        </dd>
        <dt>Wrong a year, unverified as right</dt>
        <dd>
          <FigureText of={cumulated.wrongPerYear.unverifiedAsRight} from={`${path}.wrongPerYear.unverifiedAsRight`} />
        </dd>
        <dt>Share missed</dt>
        <dd>
          <FigureText of={cumulated.missedShare} from={`${path}.missedShare`} />
        </dd>
      </dl>
    </>
  );
}
