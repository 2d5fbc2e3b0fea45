import type { JSX } from "preact";
import type { DesignCondition, DesignFigures, DesignRoad } from "../../result/design.js";
import type { RuleFinding } from "../../result/rules.js";
import { heldTogether } from "../format.js";
import { rowsAt, type Traced, tracedAt } from "../traced.js";
import { writers } from "../writers.js";
import { Datum } from "./datum.js";
import { Folded } from "./folded.js";
import { Mark } from "./mark.js";
import { Name } from "./name.js";

/** What is asked for in a site file where nothing else is known; the share is an example. */
const EXAMPLE_SHARE = 0.02;

/** How a rule fares by counting, in one line, and by design: what must hold, the numbers, what was assumed and by whom. */
export function TwoRoads({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const design = tracedAt(rule, "design");
  const cumulated = tracedAt(rule, "cumulated");
  const figures = cumulated === null ? (design === null ? null : tracedAt(design, "figures")) : tracedAt(cumulated, "design");
  const conditions = [...(design?.of.conditions ?? []), ...(figures?.of.conditions ?? [])];
  const open = conditions.every(({ holds }) => holds);
  return (
    <>
      <h3>Two roads</h3>
      <dl class="terms">
        <dt>By counting</dt>
        <dd>
          <Counted rule={rule} />
        </dd>
        {design === null ? null : (
          <>
            <dt>By design</dt>
            <dd>
              <Conditions all={conditions} />
              {figures === null ? null : <Figures figures={figures} open={open} />}
              {figures === null ? null : <Assumed design={design} figures={figures} rule={rule.of} open={open} />}
              <Tests design={design} />
            </dd>
          </>
        )}
      </dl>
    </>
  );
}

/** Wrong firings in the time in which somebody could tell, and the firings of the rest. */
function Counted({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const [seen, confirmed] = rule.of.cumulated === null ? ["", "evidence."] as const : ["cumulated.", "cumulated."] as const;
  const { act, cumulated } = rule.of;
  const { firings } = cumulated ?? rule.of;
  const years = (cumulated ?? rule.of.evidence).yearsConfirmed;
  const unseen =
    firings.unverified === 0 ? null : (
      <>
        {" "}
        <Datum at={rule} path={`${seen}firings.unverified`} as="count" /> {firings.unverified === 1 ? "firing" : "firings"} came when nobody could tell; {firings.unverified === 1 ? "it counts" : "they count"} neither as right nor as wrong.
      </>
    );
  return (
    <>
      {years === 0 ? (
        <>At some hours of the day nobody could confirm a firing, so there is nothing to count over.</>
      ) : (
        <>
          It would have {pastTenses[act]} wrongly <Datum at={rule} path={`${seen}firings.wrong`} as="count" /> {firings.wrong === 1 ? "time" : "times"} in <Datum at={rule} path={`${confirmed}yearsConfirmed`} as="days" /> confirmed days.
        </>
      )}
      {unseen}{" "}
      The number is higher than the plain count alone would give: it must hold however often you look, half of the permitted error is kept for
      firings that were checked one by one, and while few faults were seen each may stand for a clump of four.
    </>
  );
}

const pastTenses: Readonly<Record<RuleFinding["act"], string>> = { unlock: "unlocked", lock: "locked", disarm: "disarmed", arm: "armed" };

/** What must hold, each with a mark and a word that says whether it does. */
function Conditions({ all }: { all: readonly DesignCondition[] }): JSX.Element {
  return (
    <ul class="conditions">
      {all.map(({ holds, text }) => (
        <li>
          <span class={`effect ${holds ? "clears" : "breaks"}`}>
            <Mark sense={holds ? "clears" : "breaks"} /> {holds ? "holds" : "fails"}
          </span>
          : {heldTogether(text)}
        </li>
      ))}
    </ul>
  );
}

/** The number and what it is made of; with a condition that fails it is only what there would be to claim. */
function Figures({ figures, open }: { figures: Traced<DesignFigures>; open: boolean }): JSX.Element {
  const { bound, byChance, byCommonCause, slid } = figures.of;
  if (bound === null) return <p>No number can be given: no day was seen on which it could be judged.</p>;
  return (
    <p>
      {open ? "At most" : "If all of this held, it would be at most"} <Datum at={figures} path="bound" as="at most" /> wrong a year
      {byChance === null || byCommonCause === null ? (
        ""
      ) : (
        <>
          {" "}
          = by chance <Datum at={figures} path="byChance" as="at most" /> + by a common cause <Datum at={figures} path="byCommonCause" as="at most" />, each rounded up
        </>
      )}
      .
      {slid === null ? null : (
        <>
          {" "}
          The best guess for chance alone, without any margin, is <Datum at={figures} path="slid" as="amount" /> a year.
        </>
      )}
    </p>
  );
}

/** What was assumed, who said so, and how far it may be wrong. */
function Assumed({ design, figures, rule, open }: { design: Traced<DesignRoad>; figures: Traced<DesignFigures>; rule: RuleFinding; open: boolean }): JSX.Element {
  const { commonShareBecause, noSharedHoursBecause } = design.of;
  const { breakEven, bound } = figures.of;
  const share = <Datum at={design} path="commonShare" as="one in" />;
  return (
    <>
      <p>
        {commonShareBecause === null ? (
          <>Assumed, as your site file states nothing: {share} of the rarer kind of false report also comes with one of the other kind.</>
        ) : (
          <>
            Stated in your site file: at most {share} of the rarer kind of false report also comes with one of the other kind, because{" "}
            <q>{commonShareBecause}</q>.
          </>
        )}
        {noSharedHoursBecause === null ? null : (
          <>
            {" "}
            Stated too: the two kinds share no hour of the day, because <q>{noSharedHoursBecause}</q>.
          </>
        )}
      </p>
      {rule.wrongPerYear.limit === null || bound === null ? null : breakEven === null ? (
        <p>Chance alone already takes up your limit, so no statement about common causes would be enough yet. More history may help.</p>
      ) : (
        <p>
          Your limit {open ? "holds" : "would hold then"} while at most <Datum at={figures} path="breakEven" as="one in" /> of {rarerReports(figures.of)}.
        </p>
      )}
      {commonShareBecause === null ? <HowToState share={breakEven ?? EXAMPLE_SHARE} /> : null}
    </>
  );
}

/** Whose false reports are the rarer ones, and what must not come with them. */
function rarerReports({ rarer }: DesignFigures): string {
  if (rarer === null) return "the rarer kind of false report also comes with one of the other kind";
  return `the false reports about ${rarer} also come with one about ${rarer === "vehicles" ? "people" : "vehicles"}`;
}

/** What to write into the site file, and what to look at before. */
function HowToState({ share }: { share: number }): JSX.Element {
  return (
    <Folded summary="How to state it in the site file">
      <p>
        Look whether both kinds of sensor share a power supply, a radio, a board, a maker and firmware, or software that restarts. If you
        know how seldom one false report brings the other, write it below the rule, with your reason:
      </p>
      <p>
        <code>{`stated: { common_cause: { at_most: ${writers["one in"](share)}, because: "…" } }`}</code>
      </p>
    </Folded>
  );
}

/** Shared causes that somebody let fail on purpose. */
function Tests({ design }: { design: Traced<DesignRoad> }): JSX.Element | null {
  const tests = rowsAt(design, "tests");
  if (tests.length === 0) return null;
  return (
    <>
      <p>Tried on purpose, according to your diary:</p>
      <ul>
        {tests.map((test) => (
          <li>
            <Name of={test.of.cause} /> failed <Datum at={test} path="made" as="count" /> {test.of.made === 1 ? "time" : "times"}; both kinds reported
            falsely <Datum at={test} path="reachedBoth" as="count" /> {test.of.reachedBoth === 1 ? "time" : "times"}, so at most{" "}
            <Datum at={test} path="atMostShare" as="share rounded up" /> of its failures do that.
          </li>
        ))}
      </ul>
    </>
  );
}
