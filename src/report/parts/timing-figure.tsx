import type { JSX } from "preact";
import { stretchesOf } from "../charts/timing-lanes.js";
import type { DrawnFiring } from "../drawings.js";
import { countOf, lengthText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { LocalTime, useClock } from "./local-time.js";
import { Mark } from "./mark.js";
import { Name, Names } from "./name.js";
import { Chart } from "./picture.js";
import type { ExcerptFinding, RuleFinding } from "../../result/rules.js";

/** Changes of a lane that are put into words: a flapping signal may have hundreds. */
const MOST_CHANGES_IN_WORDS = 12;

/** How the reason of a wrong firing begins; the caption says so already. */
const OUTCOME_FIRST = "Wrong: ";

const pastAct: Readonly<Record<RuleFinding["act"], string>> = { unlock: "unlocked", lock: "locked", disarm: "disarmed", arm: "armed" };

/** One wrong or unverified firing: when, why, the timing diagram, and the same in words. */
export function TimingFigure({ drawn, act, id }: { drawn: DrawnFiring; act: RuleFinding["act"]; id: string }): JSX.Element {
  const { firing, moment, drawing } = drawn;
  const wrong = firing.outcome === "wrong";
  return (
    <figure class="moment">
      <figcaption id={id}>
        <strong class={wrong ? "effect breaks" : "effect open"}>
          <Mark sense={wrong ? "breaks" : "open"} /> {wrong ? "Wrong" : "Unverified"}
        </strong>
        , would have {pastAct[act]} <LocalTime at={firing.at} />
        {firing.why.startsWith(OUTCOME_FIRST) ? `: ${firing.why.slice(OUTCOME_FIRST.length)}` : `. ${firing.why}`}
        {firing.culprit === null ? null : ` ${firing.culprit.text}`}
      </figcaption>
      {moment === null ? (
        <p class="none">No excerpt was kept of this moment, so there is no diagram.</p>
      ) : drawing === null ? (
        <p class="none">Its diagram was left out to keep this page small.</p>
      ) : (
        <Chart drawing={drawing} labelledBy={id} />
      )}
      <p class="aside">
        {firing.vouchers.length === 0 ? null : (
          <>
            Counting all witnesses, the rule’s own among them, it looks {firing.looks}. Outside the rule: <Names of={firing.vouchers} />
            .{" "}
          </>
        )}
        {firing.wantedAt === null || firing.delaySeconds === null ? (
          "No moment near it called for it."
        ) : (
          <>
            It was called for at <LocalTime at={firing.wantedAt} />, and came {lengthText(Math.abs(firing.delaySeconds))}{" "}
            {firing.delaySeconds < 0 ? "before" : "after"} that.
          </>
        )}
      </p>
      {moment === null || drawing === null ? null : <InWords moment={moment} />}
    </figure>
  );
}

/** What each lane of a timing diagram shows, folded under it. */
export function InWords({ moment }: { moment: ExcerptFinding }): JSX.Element {
  const clock = useClock();
  return (
    <details>
      <summary>The diagram in words</summary>
      <ul>
        {moment.lanes.map((lane) => (
          <li>
            {lane.role} <Name of={lane.label} />: {changesText(lane.steps, moment, clock)}
          </li>
        ))}
      </ul>
    </details>
  );
}

function changesText(steps: ExcerptFinding["lanes"][number]["steps"], moment: ExcerptFinding, clock: LocalClock): string {
  const stretches = stretchesOf(steps, moment.from, moment.to);
  const shown = stretches
    .slice(0, MOST_CHANGES_IN_WORDS)
    .map(({ from, state }, index) => (index === 0 ? `${state} at the start` : `${state} from ${clock.time(from)}`));
  const more = stretches.length - shown.length;
  return `${shown.join(", ")}${more > 0 ? `, and ${countOf(more, "further change")}` : ""}.`;
}
