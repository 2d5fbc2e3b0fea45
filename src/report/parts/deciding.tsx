import type { JSX } from "preact";
import type { RuleFinding } from "../../result/schema.js";
import { aloneAtTimes, decidingBound } from "../deciding-numbers.js";
import { Datum } from "./datum.js";
import { FigureText } from "./figure-text.js";
import { Names } from "./name.js";

/** The three numbers that decide, each beside its limit and what was seen; under them, how much history they rest on. */
export function Deciding({ rule, path }: { rule: RuleFinding; path: string }): JSX.Element {
  const [wrong, missed] = [decidingBound(rule, "wrong"), decidingBound(rule, "missed")];
  const atTimes = aloneAtTimes(rule);
  const over = rule.cumulated === null ? path : `${path}.cumulated`;
  const { wrongPerYear } = rule.cumulated ?? rule;
  const [seen, seenPath] = rule.cumulated === null ? [rule.evidence, `${path}.evidence`] : [rule.cumulated, over];
  const [missedSeen, missedPath] = rule.cumulated === null ? [rule.missedShare.unverifiedAsMissed, `${path}.missedShare.unverifiedAsMissed`] : [rule.cumulated.missedShare, `${over}.missedShare`];
  return (
    <>
      <dl class="deciding">
        <div>
          <dt>Wrong firings a year, at {wrong.bound}</dt>
          <dd>
            <BoundNumber rule={rule} path={path} about="wrong" />
            <small>
              <BoundLimit rule={rule} path={path} about="wrong" />
            </small>
            <small>
              seen, unverified taken as {wrong.bound === "most" ? "wrong" : "right"}:{" "}
              {wrong.bound === "most" ? (
                <FigureText of={wrongPerYear.unverifiedAsWrong} from={`${over}.wrongPerYear.unverifiedAsWrong`} bare />
              ) : (
                <FigureText of={wrongPerYear.unverifiedAsRight} from={`${over}.wrongPerYear.unverifiedAsRight`} bare />
              )}
            </small>
          </dd>
        </div>
        <div>
          <dt>Share of wanted missed or late, at {missed.bound}</dt>
          <dd>
            <BoundNumber rule={rule} path={path} about="missed" />
            <small>
              <BoundLimit rule={rule} path={path} about="missed" />
            </small>
            <small>
              seen, unverified taken as missed: <FigureText of={missedSeen} from={missedPath} perCent />
            </small>
          </dd>
        </div>
        <div>
          <dt>Enough alone, by lying, to make it fire</dt>
          <dd>
            <b>
              <Datum of={rule.singlePoints} from={`${path}.singlePoints`} as="members" />
            </b>
            <small>{rule.act === "unlock" || rule.act === "disarm" ? "one is too many" : `does not decide about a rule that ${rule.act}s`}</small>
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
        Rests on <Datum of={seen.yearsSeen} from={`${seenPath}.yearsSeen`} as="days" /> days in which the rule could be judged; for{" "}
        <Datum of={seen.blindShare} from={`${seenPath}.blindShare`} as="share of time" /> of the time some way of firing could not be heard.
      </p>
    </>
  );
}

/** The bound that decides, as a number; without one, why there is none. */
export function BoundNumber({ rule, path, about }: { rule: RuleFinding; path: string; about: "wrong" | "missed" }): JSX.Element {
  const { reason, index } = decidingBound(rule, about);
  if (reason === null || reason.measured === null) return <b class="none">no bound</b>;
  return (
    <b>
      <Datum of={reason} from={`${path}.reasons.${index}`} as={about === "wrong" ? "measured without unit" : "measured against its limit"} />
    </b>
  );
}

/** The limit that the bound is held against. */
export function BoundLimit({ rule, path, about }: { rule: RuleFinding; path: string; about: "wrong" | "missed" }): JSX.Element {
  const limit = about === "wrong" ? rule.wrongPerYear.limit : rule.missedShare.limit;
  if (limit === null) return <>no limit set</>;
  return (
    <>
      limit <Datum of={limit} from={`${path}.${about === "wrong" ? "wrongPerYear" : "missedShare"}.limit`} as={about === "wrong" ? "amount" : "chosen share"} />
    </>
  );
}
