import type { SignalAccount } from "../../truth/signals/account.js";
import type { Timeline } from "../../timeline/timeline.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts, type Resolved } from "../rule/evaluate.js";
import { witnessesOf, type Witnesses } from "../rule/facts.js";
import type { History, PreparedRule } from "../rule/prepare.js";
import { actedOn, countedStretches, type Acted, type WantedStretches } from "./acting.js";

/** What the rule would have done over the period. */
export interface Replay extends Acted {
  /** The condition and all its parts, as the rule would have seen them at the time. */
  readonly parts: EvaluatedParts;
  readonly condition: Timeline;
}

/**
 * A prepared rule over one history: what it would have done, whether acting was right, and when it should have acted.
 */
export interface RuleOverHistory extends PreparedRule {
  readonly history: History;
  readonly replayed: Replay;
  readonly witnesses: Witnesses;
  readonly wanted: WantedStretches;
}

/**
 * Replays a prepared rule over a history and settles what its acting is held against. Drills and other settings change
 * what the rule sees; facts and wanted stretches stay those of the undisturbed history, so they are worked out here
 * once.
 * @throws RangeError when the rule names a signal without an account, or accounts and references do not cover the same
 * time.
 */
export function overHistory(rule: PreparedRule, history: History): RuleOverHistory {
  const witnesses = witnessesOf(rule, history);
  return { ...rule, history, replayed: replay(rule, history.accounts), witnesses, wanted: countedStretches(rule, witnesses) };
}

/**
 * Replays a rule on what it would have seen at the time: `live` histories, and no turn is believed over a restart.
 * @throws RangeError when the rule names a signal without an account.
 */
export function replay(rule: PreparedRule, accounts: ReadonlyMap<string, SignalAccount>): Replay {
  const { spec, site } = rule;
  const parts = evaluateParts(spec.when, (ref) => heardLive(accountOf(rule, accounts, ref)), site.bridgeMs);
  const condition = timelineOfPart(spec.when, parts);
  return { parts, condition, ...actedOn(condition, spec.restMs) };
}

/** What a rule hears of a signal at the time. */
export function heardLive({ live, restarts }: SignalAccount): Resolved {
  return { timeline: live, barriers: restarts };
}

/** The account of a signal that the rule names. @throws RangeError when there is none. */
export function accountOf({ spec }: PreparedRule, accounts: ReadonlyMap<string, SignalAccount>, signal: string): SignalAccount {
  const account = accounts.get(signal);
  if (account === undefined) throw new RangeError(`Rule “${spec.name}” names the signal “${signal}”, of which there is no account.`);
  return account;
}
