import { ascending, greatest } from "d3-array";
import { HOUR_MS, SECOND_MS } from "../../ground/units.js";
import type { Culprit } from "../../result/culprit.js";
import { connectedTo } from "../../site/cause-groups.js";
import { expressionText } from "../../site/expression-text.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import { decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { confirmedTimeline } from "../rule/facts.js";
import { accountOf, type RuleOverHistory } from "../replay/replay.js";
import { nobody, overlapOf, stretchAt } from "./culprit.js";
import { alsoText, lengthText, saidText, stateOfText, stretchText, timeText, type ReadText } from "./words.js";

/** A signal on which a wrong firing rested, and what it said falsely. */
interface FalseReport {
  readonly signal: string;
  readonly condition: string;
  readonly what: Culprit["what"];
  readonly from: number | null;
  readonly to: number | null;
  readonly bySeconds: number | null;
  /** When it began to say so: of several, the last one set the rule off. */
  readonly began: number;
  readonly text: string;
}

/**
 * Who reported falsely so that the rule fired wrongly at `at`: of the conditions it rested on, those that witnesses
 * outside the rule (or the diary) contradict; of several, the one that came last, since it set the rule off. `none lied`
 * where they confirm every one of them. Null where they can tell of none that it was false, and not of all that they
 * were true.
 */
export function falseReportAt(at: number, rule: RuleOverHistory, read: ReadText): Culprit | null {
  const own = connectedTo(rule.signals, rule.history.groups);
  const subjectOf = new Map(rule.site.signals.map(({ id, subject }) => [id, subject]));
  const looked = decidingAtoms(rule.spec.when, rule.replayed.parts, at).map((one): FalseReport | "true" | "untold" => {
    const subject = subjectOf.get(one.atom.ref);
    const truth = subject === undefined ? undefined : confirmedTimeline(rule.history.book(subject, own));
    return subject === undefined || truth === undefined ? "untold" : reportOf(one, at, { rule, subject, truth, read });
  });
  const reports = looked.filter((one): one is FalseReport => typeof one === "object");
  const last = greatest(reports, (a, b) => a.began - b.began || ascending(b.signal, a.signal));
  if (last === undefined) return looked.every((one) => one === "true") ? nobody("none lied", "Every sensor it went by was right: the rule asks too little.") : null;
  const { signal, condition, what, from, to, bySeconds, text } = last;
  const signals = [...new Set(reports.map((one) => one.signal))].filter((other) => other !== signal).sort();
  return { signal, condition, what, from, to, bySeconds, wouldServeSeconds: null, signals, text: `${text}${alsoText(signals, "Also false")}` };
}

interface Looking {
  readonly rule: RuleOverHistory;
  readonly subject: string;
  readonly truth: Timeline;
  readonly read: ReadText;
}

function reportOf({ atom, state }: AtomState, at: number, looking: Looking): FalseReport | "true" | "untold" {
  const { rule, truth, subject } = looking;
  // A stir that is still says nothing, so it says nothing false.
  if (rule.isOneSided(atom.ref)) {
    if (atom.op === "turned") return "untold";
    if (atom.state !== state) return "true";
  }
  const account = accountOf(rule, rule.history.accounts, atom.ref);
  if (atom.op === "turned" && state === ON) {
    const turn = turned(account.live, atom.to, { bridgeMs: rule.site.bridgeMs, barriers: account.restarts }).findLast((one) => one.at <= at && one.at + atom.withinMs > at);
    return turn === undefined ? "untold" : turnReport(atom.ref, atom.to, turn.at, expressionText(atom, rule.site), looking);
  }
  if (atom.op === "turned" || atom.recentlyMs !== null) return "untold";
  const claimed = (state === ON ? atom.state : 1 - atom.state) as 0 | 1;
  const real = stateAt(truth, at);
  if (real === UNKNOWN) return "untold";
  if (real === claimed) return "true";
  const word = stateOfText(atom.ref, claimed, rule.site);
  const lie = overlapOf(stretchAt(account.live, at), stretchAt(truth, at));
  const reading = looking.read(atom.ref, lie.from ?? at, lie.to ?? at + 1);
  const text = `${saidText(atom.ref, reading, word)} ${stretchText(lie.from, lie.to, rule.site)}, while ${subject} was ${stateOfText(atom.ref, (1 - claimed) as 0 | 1, rule.site)}.`;
  return { signal: atom.ref, condition: expressionText(atom, rule.site), what: "said the opposite", ...lie, bySeconds: null, began: lie.from ?? -Infinity, text };
}

/** What was false about a turn that witnesses outside the rule did not see. */
function turnReport(signal: string, to: 0 | 1, turnedAt: number, condition: string, { rule, subject, truth, read }: Looking): FalseReport | "true" | "untold" {
  const { site } = rule;
  const live = accountOf(rule, rule.history.accounts, signal).live;
  const real = turned(truth, to, { bridgeMs: site.bridgeMs, barriers: [] });
  if (real.some((one) => Math.abs(one.at - turnedAt) <= site.joinMs)) return "true";
  const state = stateAt(truth, turnedAt);
  if (state === UNKNOWN) return "untold";
  const [word, opposite] = [stateOfText(signal, to, site), stateOfText(signal, to === ON ? OFF : ON, site)];
  const said = { signal, condition, began: turnedAt };
  if (state !== to) {
    const lie = overlapOf(stretchAt(live, turnedAt), stretchAt(truth, turnedAt));
    const reading = read(signal, lie.from ?? turnedAt, lie.to ?? turnedAt + 1);
    const text = `${saidText(signal, reading, word)} ${stretchText(lie.from, lie.to, site)}, while ${subject} was ${opposite}.`;
    return { ...said, what: "said the opposite", ...lie, bySeconds: null, text };
  }
  const since = stretchAt(truth, turnedAt).from;
  const before = stretchAt(live, turnedAt - 1).from;
  if (since !== null && turnedAt - since <= HOUR_MS && (before === null || before <= since)) {
    const byMs = turnedAt - since;
    return { ...said, what: "too late", from: turnedAt, to: null, bySeconds: Math.round(byMs / SECOND_MS), text: `${signal} turned ${word} at ${timeText(turnedAt, site)}, ${lengthText(byMs)} after ${subject} did.` };
  }
  const text = `${signal} had dropped out: it said ${opposite} ${stretchText(before, turnedAt, site)} while ${subject} was ${word} all the time, and its return looked like a change.`;
  return { ...said, what: "came back", from: before, to: turnedAt, bySeconds: before === null ? null : Math.round((turnedAt - before) / SECOND_MS), text };
}
