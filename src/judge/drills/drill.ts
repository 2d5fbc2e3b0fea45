/**
 * Drills: the whole history replayed with one fault in it.
 *
 *   accounts ─ fault ─ faulted histories ─┐
 *   rule ─ paired ─ plain parts ──────────┴─ what contains a faulted signal, anew ─ firings ─ gained, lost, missed
 */
import type { ReferenceBook } from "../../truth/reference/reference.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import { factsOutside, factsWithout } from "../rule/facts.js";
import type { FiringOutcome } from "../judgement.js";
import { firingOutcome } from "../replay/outcomes.js";
import { withRests, type Rise } from "../replay/replay.js";
import { servingOf } from "../replay/acting.js";
import { toleranceOf } from "../rule/prepare.js";
import { countedStretches } from "../replay/wanted.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { causeGroups } from "../../site/cause-groups.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { RuleSpec, Site } from "../../site/site.js";
import { collapse } from "../../timeline/collapse.js";
import { rises } from "../../timeline/rises.js";
import type { Timeline } from "../../timeline/timeline.js";
import { compareFirings, type TimedOutcome } from "./compare-firings.js";
import { latenessMs } from "./faults.js";
import type { FaultedHistories } from "./faulted-histories.js";
import { namesByPart, paired } from "./faulted-condition.js";
import { type Fault, faults } from "../../result/trial-schema.js";

/** One fault in one signal, or in all signals of one shared cause at once, and what it did to a rule. */
export interface Drill {
  readonly on: "signal" | "cause";
  readonly name: string;
  readonly fault: Fault;
  /** Firings with the fault in. */
  readonly firings: number;
  /**
   * Firings that the plain replay does not have, and the other way round: see {@link compareFirings}. The tolerance is the rule's
   * own (a wanted instant is served within it), and for a late signal as much more as it is late: what came late and is as
   * right or wrong as before has moved; whether it came too late is told by `missedGained`.
   */
  readonly gained: number;
  readonly lost: number;
  /** Of those gained: wrong by the facts as they were without the fault, and those nobody outside the rule can tell. */
  readonly wrongGained: number;
  readonly unverifiedGained: number;
  /** Wanted instants missed with the fault in and not without it. */
  readonly missedGained: number;
}

/** What a fault is put into: one signal by itself, or everything that depends on a shared cause. */
export interface DrillTarget {
  readonly on: "signal" | "cause";
  readonly name: string;
  /** Those of the rule's signals that the fault takes, sorted. */
  readonly signals: readonly string[];
}

/** Every signal of the rule and every shared cause of one, in the order of their names, signals first. */
export function drillTargets(rule: RuleSpec, site: Site): DrillTarget[] {
  const own = expressionRefs(rule.when);
  const specs = site.signals.filter((signal) => own.includes(signal.id));
  const causes = [...new Set(specs.flatMap((signal) => signal.shares))].sort();
  return [
    ...own.map((name) => ({ on: "signal" as const, name, signals: [name] })),
    ...causes.map((name) => ({ on: "cause" as const, name, signals: specs.filter((signal) => signal.shares.includes(name)).map((signal) => signal.id).sort() })),
  ];
}

/**
 * Every fault in every signal of the rule and every shared cause of one. Signals the rule does not name cannot change it and
 * are left out. The facts stay those of the undisturbed history: the fault is in what the rule sees, not in what happened.
 * Works anew only the parts of the condition that contain a faulted signal, each atom once a fault.
 * @throws RangeError as `judgeRule`.
 */
export function drillRule(
  rule: RuleSpec,
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  book: ReferenceBook,
  histories: FaultedHistories,
  groups: ReadonlyMap<string, string> = causeGroups(site.signals),
): Drill[] {
  const outside = factsOutside(rule, groups, book, site.bridgeMs, "verified").truth;
  const full = factsWithout([], rule.rightWhen, book, site.bridgeMs).truth;
  const tolerance = toleranceOf(rule, site);
  const { counted } = countedStretches(rule.act, outside, full, site, tolerance);
  const conditions = makeFaultedConditions(rule, site, accounts, histories);
  const acted = (condition: Timeline): Acted => {
    const found = withRests(rises(collapse(condition)), rule.restMs);
    const firings = found.filter((rise) => rise.restedAfter === null).map((rise) => rise.at);
    return {
      firings: firings.map((at) => ({ at, outcome: firingOutcome(at, tolerance.earlyMs, outside) })),
      missed: counted.map((stretch) => servingOf(stretch, { firings, rises: found }, rule.act, tolerance).outcome === "missed"),
      rises: found,
    };
  };
  const plain = acted(conditions.plain);
  const remembered = new Map<string, Omit<Drill, "on" | "name">>();
  return drillTargets(rule, site).flatMap(({ on, name, signals }) =>
    faults.map((fault) => {
      // A cause with one signal in the rule does what that signal does.
      const key = JSON.stringify([fault, signals]);
      const result = remembered.get(key) ?? resultOf(fault, acted(conditions.with(fault, signals)), plain, tolerance.withinMs);
      remembered.set(key, result);
      return { on, name, ...result };
    }),
  );
}

interface Acted {
  readonly firings: readonly TimedOutcome[];
  readonly rises: readonly Rise[];
  /** For each counted wanted instant. */
  readonly missed: readonly boolean[];
}

function resultOf(fault: Fault, faulted: Acted, plain: Acted, toleranceMs: number): Omit<Drill, "on" | "name"> {
  const { gained, lost } = compareFirings(plain.firings, faulted.firings, toleranceMs + latenessMs(fault));
  const of = (outcome: FiringOutcome): number => gained.filter((one) => one.outcome === outcome).length;
  return {
    fault,
    firings: faulted.firings.length,
    gained: gained.length,
    lost: lost.length,
    wrongGained: of("wrong"),
    unverifiedGained: of("unverified"),
    missedGained: faulted.missed.filter((missed, i) => missed && !plain.missed[i]).length,
  };
}

interface FaultedConditions {
  readonly plain: Timeline;
  readonly with: (fault: Fault, signals: readonly string[]) => Timeline;
}

/** Keeps the plain timeline of every part, and each atom's timeline under each fault. */
function makeFaultedConditions(rule: RuleSpec, site: Site, accounts: ReadonlyMap<string, SignalAccount>, histories: FaultedHistories): FaultedConditions {
  const when = paired(rule.when);
  const names = namesByPart(when);
  const accountOf = (ref: string): SignalAccount => {
    const account = accounts.get(ref);
    if (account === undefined) throw new RangeError(`Rule "${rule.name}" names the signal "${ref}", of which there is no account.`);
    return account;
  };
  const plain = evaluateParts(
    when,
    (ref) => {
      const { live, restarts } = accountOf(ref);
      return { timeline: live, barriers: restarts };
    },
    site.bridgeMs,
  );
  const atoms = new Map<Fault, Map<Expression, Timeline>>(faults.map((fault) => [fault, new Map()]));
  return {
    plain: timelineOfPart(when, plain),
    with(fault, signals) {
      const worked = atoms.get(fault)!;
      const touched = (part: Expression): boolean => signals.some((signal) => names.get(part)!.has(signal));
      const known: Pick<EvaluatedParts, "get"> = { get: (part) => (touched(part) ? worked.get(part) : plain.get(part)) };
      const parts = evaluateParts(when, (ref) => histories(accountOf(ref), fault), site.bridgeMs, known);
      for (const [part, timeline] of parts) if ((part.op === "is" || part.op === "turned") && touched(part)) worked.set(part, timeline);
      return timelineOfPart(when, parts);
    },
  };
}
