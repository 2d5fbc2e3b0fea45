import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import { countText } from "../format.js";
import { DataTable, numbers, words } from "./data-table.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { LeftOut } from "./left-out.js";
import { Name } from "./name.js";

type Sets = RuleFinding["cutSets"];

const MOST_OPEN = 4;
/** Sets that suffice: the table shows so many; findings.json has the rest. */
const MOST_ROWS = 12;

/** What would make the rule act wrongly, or keep it from acting: by its structure, and by what the others really read. */
export function CutSets({ rule, index }: { rule: RuleFinding; index: number }): JSX.Element {
  const { cutSets } = rule;
  const path = `rules.${index}.cutSets`;
  return (
    <>
      <h4>What would make it {rule.act} wrongly</h4>
      <SetList
        of={cutSets.firing}
        head="Lying together, though everything else reads against it"
        none={`no ${cutSets.firing.upToSize} signals or shared causes lying together would be enough, all others reading against it`}
      />
      <InPractice of={cutSets.inPractice} path={`${path}.inPractice`} id={`practice-${index + 1}`} rule={rule.name} />
      <dl class="terms">
        <dt>Expected wrong a year, by lying signals</dt>
        <dd>
          each signal by itself: <Datum of={cutSets.inPractice.expectedPerYear.independent} from={`${path}.inPractice.expectedPerYear.independent`} as="expected rate" />; with shared causes:{" "}
          <Datum of={cutSets.inPractice.expectedPerYear.withSharedCauses} from={`${path}.inPractice.expectedPerYear.withSharedCauses`} as="expected rate" />
        </dd>
        <dt>Expected share missed</dt>
        <dd>
          each signal by itself: <Datum of={cutSets.expectedMissedShare.independent} from={`${path}.expectedMissedShare.independent`} as="expected share" />; with shared causes:{" "}
          <Datum of={cutSets.expectedMissedShare.withSharedCauses} from={`${path}.expectedMissedShare.withSharedCauses`} as="expected share" />
        </dd>
      </dl>
      <h4>What would keep it from acting</h4>
      <SetList of={cutSets.failing} head="Falling silent together, whatever everything else reads" none={`no ${cutSets.failing.upToSize} signals or shared causes falling silent together would be enough`} />
      <Folded summary="What is taken for granted in this">
        <p class="aside">{cutSets.assumes}</p>
      </Folded>
    </>
  );
}

function SetList({ of, head, none }: { of: Sets["firing"]; head: string; none: string }): JSX.Element {
  if (of.sets.length === 0) {
    return (
      <p>
        {head}: {none}.
      </p>
    );
  }
  const rest = of.sets.slice(MOST_OPEN);
  return (
    <>
      <p>{head}:</p>
      <ul>
        {of.sets.slice(0, MOST_OPEN).map(({ text }) => (
          <li>{text}</li>
        ))}
      </ul>
      {rest.length === 0 ? null : (
        <Folded summary={`${countText(rest.length)} more, none of them smaller`}>
          <ul>
            {rest.map(({ text }) => (
              <li>{text}</li>
            ))}
          </ul>
          {of.count > of.sets.length ? <p class="aside">There are {countText(of.count)} in all; the smallest were kept.</p> : null}
        </Folded>
      )}
    </>
  );
}

/** The first of the smallest sets: of those that suffice longest, the one that needs fewest to lie. */
function fewest({ sets }: Sets["inPractice"]): Sets["inPractice"]["sets"][number] | undefined {
  const size = ({ signals, causes }: Sets["inPractice"]["sets"][number]): number => signals.length + causes.length;
  return sets.toSorted((a, b) => size(a) - size(b))[0];
}

function InPractice({ of, path, id, rule }: { of: Sets["inPractice"]; path: string; id: string; rule: string }): JSX.Element {
  if (of.sets.length === 0) {
    return (
      <p>
        In the <Datum of={of.wrongHours} from={`${path}.wrongHours`} as="hours" /> in which firing would have been wrong, no {of.upToSize === 1 ? "single one" : `${of.upToSize} of them`} would have been enough.
      </p>
    );
  }
  return (
    <Folded summary={`Enough at times, the rest holding anyway: ${fewest(of)?.text ?? ""}${of.count > 1 ? `, and ${countText(of.count - 1)} more` : ""}`}>
      <DataTable
        id={id}
        stacks
        caption={
          <>
            “<Name of={rule} />”: what would have been enough, given what all others really read in the <Datum of={of.wrongHours} from={`${path}.wrongHours`} as="hours" /> in which firing would have been wrong
          </>
        }
        columns={[words("Lying together"), numbers("Share of that time"), numbers("Hours a month"), numbers("Expected wrong a year")]}
        rows={of.sets.slice(0, MOST_ROWS).map((set, at) => [
          set.text,
          <Datum of={set.share} from={`${path}.sets.${at}.share`} as="share" />,
          <Datum of={set.hoursPerMonth} from={`${path}.sets.${at}.hoursPerMonth`} as="amount" />,
          <Datum of={set.expectedPerYear} from={`${path}.sets.${at}.expectedPerYear`} as="expected rate" />,
        ])}
      />
      <LeftOut count={of.sets.length - MOST_ROWS} file="findings.json" />
      {of.count > of.sets.length ? <p class="aside">There are {countText(of.count)} in all; those that suffice longest were kept.</p> : null}
    </Folded>
  );
}
