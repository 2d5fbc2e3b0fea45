import { stepAt, stepsOf, type Step } from "./history-steps.js";
import type { ConditionPart, Histories } from "./histories.js";
import type { Findings } from "./findings.js";
import type { Firing, NearMissFinding, RuleFinding, WantedInstant } from "./rules.js";

/** Three-valued, as timelines have it. */
type State = Step["state"];
const [OFF, ON, UNKNOWN] = [0, 1, 2] as const;

/** What one signal said, or what most likely was so, about an instant. Instants are epoch milliseconds. */
export interface Said {
  readonly name: string;
  readonly subject: string;
  readonly state: State;
  /** Since when it had been so; null: since the beginning of the period. */
  readonly since: number | null;
  /** The steps within the window, in order, the one in force at its beginning left out. */
  readonly steps: readonly Step[];
}

/** One statement of a condition with its state. */
export interface AtomSaid {
  readonly text: string;
  readonly state: State;
  readonly since: number | null;
}

/** Why a rule did or did not fire at an instant. */
export interface RuleSaid {
  readonly rule: string;
  readonly state: State;
  readonly since: number | null;
  /** The firing at the instant, or the one by which the condition, still true, was answered; null: none. */
  readonly firing: Firing | null;
  /** True: the condition became true while the rule was resting after an earlier firing. */
  readonly rested: boolean;
  /** Every atom of the condition, in its order. */
  readonly atoms: readonly AtomSaid[];
  /** Condition true: the atoms it rests on. Else: the fewest atoms that would have had to be otherwise at this very instant. */
  readonly deciding: readonly AtomSaid[];
  /** Firings within the window. */
  readonly firings: readonly Firing[];
  /** Wanted instants within the window that were late or missed, with what they came down to. */
  readonly unserved: readonly WantedInstant[];
  /** Stretches that reach into the window, over which one signal alone kept the rule from firing wrongly. */
  readonly nearMisses: readonly NearMissFinding[];
}

/** All there is to say about an instant. */
export interface Explanation {
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly signals: readonly Said[];
  readonly subjects: readonly Said[];
  readonly rules: readonly RuleSaid[];
}

/**
 * What every signal said around an instant and why each rule did or did not fire, from the findings alone.
 * Raises `RangeError` when the findings hold no histories, or the instant is outside the period.
 * @param at epoch milliseconds; `aroundMs` the half-width of the window that steps and firings are listed for
 */
export function explain(findings: Findings, at: number, aroundMs: number): Explanation {
  const { histories, period } = findings;
  if (histories === null) throw new RangeError("These findings hold no histories.");
  const [start, end] = [period.from, period.to];
  if (!(at >= start && at < end)) throw new RangeError("The instant is outside the period.");
  const [from, to] = [Math.max(start, at - aroundMs), Math.min(end, at + aroundMs)];
  const said = (name: string, subject: string, text: string): Said => {
    const steps = stepsOf(text, start);
    const inForce = stepInForce(steps, at);
    return { name, subject, state: inForce?.state ?? UNKNOWN, since: sinceOf(inForce, start), steps: steps.filter((step) => step.at > from && step.at <= to) };
  };
  return {
    at,
    from,
    to,
    signals: histories.signals.map(({ signal, subject, steps }) => said(signal, subject, steps)),
    subjects: histories.subjects.map(({ subject, steps }) => said(subject, subject, steps)),
    rules: histories.rules.map((rule) => ruleSaid(rule, findings.rules.find(({ name }) => name === rule.rule), { at, start, from, to })),
  };
}

function ruleSaid(rule: Histories["rules"][number], found: RuleFinding | undefined, when: { at: number; start: number; from: number; to: number }): RuleSaid {
  const { at, start, from, to } = when;
  const firingList = found?.firingList ?? [];
  const steps = rule.parts.map((part) => (part.steps === null ? [] : stepsOf(part.steps, start)));
  const states: State[] = [];
  rule.parts.forEach((part, index) => states.push(part.op === "atom" ? (stepInForce(steps[index], at)?.state ?? UNKNOWN) : combined(part, part.of.map((place) => states[place] ?? UNKNOWN))));
  const whole = stepInForce(stepsOf(rule.steps, start), at);
  const [state, since] = [whole?.state ?? UNKNOWN, sinceOf(whole, start)];
  const atomAt = (index: number): AtomSaid => ({ text: rule.parts[index]?.text ?? "", state: states[index] ?? UNKNOWN, since: sinceOf(stepInForce(steps[index], at), start) });
  const firing = state === ON ? (firingList.find((one) => one.at === since) ?? null) : null;
  return {
    rule: rule.rule,
    state,
    since,
    firing,
    rested: state === ON && firing === null && since !== null && firingList.some((one) => one.at < since && one.at + rule.restMs > since),
    atoms: rule.parts.flatMap((part, index) => (part.op === "atom" ? [atomAt(index)] : [])),
    deciding: [...new Set(state === ON ? resting(rule.parts, states) : standing(rule.parts, states))].map(atomAt),
    firings: firingList.filter((one) => one.at >= from && one.at <= to),
    unserved: (found?.wantedList ?? []).filter((one) => one.outcome !== "served" && one.at >= from && one.at <= to),
    nearMisses: (found?.margin.nearMisses ?? []).filter((one) => one.from <= to && one.to > from),
  };
}

function stepInForce(steps: readonly Step[] | undefined, at: number): Step | undefined {
  return steps?.[stepAt(steps, at)];
}

function sinceOf(step: Step | undefined, start: number): number | null {
  return step === undefined || step.at === start ? null : step.at;
}

/** How many operands must be on for the part to be on. */
function quorum(part: ConditionPart): number {
  return part.op === "all" ? part.of.length : part.op === "any" ? 1 : (part.count ?? part.of.length);
}

/** Kleene's strong three-valued logic. */
function combined(part: ConditionPart, operands: readonly State[]): State {
  if (part.op === "not") return operands[0] === ON ? OFF : operands[0] === OFF ? ON : UNKNOWN;
  const on = operands.filter((state) => state === ON).length;
  const possible = on + operands.filter((state) => state === UNKNOWN).length;
  return on >= quorum(part) ? ON : possible < quorum(part) ? OFF : UNKNOWN;
}

/** Places of the atoms that a known state rests on. */
function resting(parts: readonly ConditionPart[], states: readonly State[], place = parts.length - 1): number[] {
  const part = parts[place];
  if (part === undefined) return [];
  if (part.op === "atom") return [place];
  return part.of.filter((operand) => part.op === "not" || states[operand] === states[place]).flatMap((operand) => resting(parts, states, operand));
}

/** Places of the fewest atoms that would have to be otherwise for the part to be `wanted`; of equally few, the first. */
function standing(parts: readonly ConditionPart[], states: readonly State[], place = parts.length - 1, wanted: State = ON): number[] {
  const part = parts[place];
  if (part === undefined || states[place] === wanted) return [];
  if (part.op === "atom") return [place];
  if (part.op === "not") return standing(parts, states, part.of[0] ?? -1, wanted === ON ? OFF : ON);
  const needed = wanted === ON ? quorum(part) : part.of.length - quorum(part) + 1;
  return part.of
    .map((operand) => standing(parts, states, operand, wanted))
    .sort((a, b) => a.length - b.length)
    .slice(0, needed)
    .flat();
}
