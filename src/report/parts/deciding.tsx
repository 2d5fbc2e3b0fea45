import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import { aloneAtTimes, decidingBound } from "../deciding-numbers.js";
import { type Traced, tracedAt } from "../traced.js";
import { Datum } from "./datum.js";
import { Names } from "./name.js";

type Cumulated = NonNullable<RuleFinding["cumulated"]>;

/**
 * The three numbers that decide, each beside its limit and what was seen; under them, how much history they rest on.
 */
export function Deciding({ rule }: { rule: Traced<RuleFinding> }): JSX.Element {
  const { act } = rule.of;
  const [wrong, missed] = [decidingBound(rule, "wrong"), decidingBound(rule, "missed")];
  const atTimes = aloneAtTimes(rule.of);
  const cumulated = tracedAt(rule, "cumulated");
  const seen: Traced<Pick<Cumulated, "yearsSeen" | "blindShare">> = cumulated ?? tracedAt(rule, "evidence");
  const rates: Traced<Pick<Cumulated, "wrongPerYear">> = cumulated ?? rule;
  const missedShare = cumulated === null ? tracedAt(rule, "missedShare.unverifiedAsMissed") : tracedAt(cumulated, "missedShare");
  return (
    <>
      <dl class="deciding">
        <div>
          <dt>Wrong firings a year, at {wrong.bound}</dt>
          <dd>
            <BoundNumber rule={rule} about="wrong" />
            <small>
              <BoundLimit rule={rule} about="wrong" />
            </small>
            <small>
              seen, unverified taken as {wrong.bound === "most" ? "wrong" : "right"}:{" "}
              <Datum
                at={rates}
                path={wrong.bound === "most" ? "wrongPerYear.unverifiedAsWrong" : "wrongPerYear.unverifiedAsRight"}
                as="figure without unit"
              />
            </small>
          </dd>
        </div>
        <div>
          <dt>Share of wanted missed or late, at {missed.bound}</dt>
          <dd>
            <BoundNumber rule={rule} about="missed" />
            <small>
              <BoundLimit rule={rule} about="missed" />
            </small>
            <small>
              seen, unverified taken as missed: <Datum at={missedShare} path="" as="figure in per cent" />
            </small>
          </dd>
        </div>
        <div>
          <dt>Enough alone, by lying, to make it fire</dt>
          <dd>
            <b>
              <Datum at={rule} path="singlePoints" as="members" />
            </b>
            <small>{act === "unlock" || act === "disarm" ? "one is too many" : `does not decide about a rule that ${act}s`}</small>
            <small>signals and shared causes, all others reading against it</small>
            {atTimes.length === 0 ? null : (
              <small>
                enough at times, the rest holding anyway: <Names of={atTimes} />
              </small>
            )}
          </dd>
        </div>
      </dl>
      <p class="rests">
        Rests on <Datum at={seen} path="yearsSeen" as="days" /> days in which the rule could be judged; for{" "}
        <Datum at={seen} path="blindShare" as="share of time" /> of the time some way of firing could not be heard.
      </p>
    </>
  );
}

/** The bound that decides, as a number; without one, why there is none. */
export function BoundNumber({ rule, about }: { rule: Traced<RuleFinding>; about: "wrong" | "missed" }): JSX.Element {
  const { reason } = decidingBound(rule, about);
  if (reason === null || reason.of.measured === null) return <b class="none">no bound</b>;
  return (
    <b>
      <Datum at={reason} path="" as={about === "wrong" ? "measured without unit" : "measured against its limit"} />
    </b>
  );
}

/** The limit that the bound is held against. */
export function BoundLimit({ rule, about }: { rule: Traced<RuleFinding>; about: "wrong" | "missed" }): JSX.Element {
  const limit =
    about === "wrong" ? (
      <Datum at={rule} path="wrongPerYear.limit" as="amount" />
    ) : (
      <Datum at={rule} path="missedShare.limit" as="chosen share" />
    );
  return (about === "wrong" ? rule.of.wrongPerYear : rule.of.missedShare).limit === null ? <>no limit set</> : <>limit {limit}</>;
}
