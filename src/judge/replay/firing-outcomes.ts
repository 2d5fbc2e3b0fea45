/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of steps */
import { expressionText } from "../../site/expression-text.js";
import type { Site } from "../../site/site.js";
import { stepAt } from "../../timeline/state-at.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import { decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { vouchersOf, type Facts } from "../rule/facts.js";
import type { PreparedRule } from "../rule/prepare.js";
import { listText, MOST_NAMED } from "../rule/words.js";
import type { RuleOverHistory } from "./replay.js";
import type { FiringOutcome } from "../../result/rules.js";

/** What a firing was, judged without knowing which wanted instant it serves. */
export interface FiringJudgement {
  readonly at: number;
  readonly outcome: FiringOutcome;
  readonly looks: "right" | "wrong" | "unclear";
  readonly why: string;
  readonly vouchers: readonly string[];
  /**
   * What one witness outside the rule makes of an unverified firing: support, no proof. Null where there is none, and
   * of verified ones.
   */
  readonly supported: "right" | "wrong" | null;
}

/**
 * Judges the firing at `at`. Right: the facts hold at that instant or come to hold at most `earlyMs` later. Wrong: they
 * are known not to hold all through that window. Otherwise nobody can tell. Time past the end of the history is
 * unknown.
 */
export function judgeFiring(at: number, rule: Pick<RuleOverHistory, keyof PreparedRule | "witnesses">): FiringJudgement {
  const { site, tolerance, witnesses } = rule;
  const windowOf = ({ truth }: Facts): Window => within(truth, at, at + tolerance.earlyMs);
  const [outside, full] = [windowOf(witnesses.outside), windowOf(witnesses.full)];
  const outcome = outcomeOf(outside);
  const fullOutcome = outcomeOf(full);
  const looks = fullOutcome === "unverified" ? "unclear" : fullOutcome;
  if (outcome === "unverified") {
    const atoms = decidingAtoms(witnesses.full.expression, witnesses.full.parts, full.firstOn ?? at);
    const support = outcomeOf(windowOf(witnesses.support));
    const supported = support === "unverified" ? null : support;
    return { at, outcome, looks, why: `${supportText(supported)}${unverifiedText(looks, atoms, site)}`, vouchers: [], supported };
  }
  const decidedAt = outside.firstOn ?? at;
  const atoms = decidingAtoms(witnesses.outside.expression, witnesses.outside.parts, decidedAt);
  const vouchers = vouchersOf(
    atoms.map((one) => one.atom),
    witnesses.outside,
    decidedAt,
  );
  const why = [`${outcome === "right" ? "Right" : "Wrong"}: ${atomsText(atoms, site)}.`, ...vouchersText(vouchers, rule)].join(" ");
  return { at, outcome, looks, why, vouchers, supported: null };
}

function supportText(supported: FiringJudgement["supported"]): string {
  return supported === null ? "" : `One sensor that the rule does not use says that it was ${supported}; it takes two, or the diary. `;
}

/** The outcome alone of a firing at `at`, by the given facts: as {@link judgeFiring}, without words. */
export function firingOutcome(at: number, { tolerance }: Pick<PreparedRule, "tolerance">, facts: Pick<Facts, "truth">): FiringOutcome {
  return outcomeOf(within(facts.truth, at, at + tolerance.earlyMs));
}

function outcomeOf({ firstOn, offThroughout }: Window): FiringOutcome {
  return firstOn !== null ? "right" : offThroughout ? "wrong" : "unverified";
}

/** What a timeline is inside a window. */
interface Window {
  /** The first instant at which it is on; null where there is none. */
  readonly firstOn: number | null;
  /** It is known to be off all through the window. */
  readonly offThroughout: boolean;
}

/** What the timeline is on the closed window `[from, to]`. */
export function within(timeline: Timeline, from: number, to: number): Window {
  let offThroughout = from >= timeline.start && to < timeline.end;
  const inside = Math.max(from, timeline.start);
  if (inside >= timeline.end) return { firstOn: null, offThroughout };
  for (let i = stepAt(timeline, inside); i < timeline.times.length && timeline.times[i]! <= to; i += 1) {
    if (timeline.states[i] === ON) return { firstOn: Math.max(timeline.times[i]!, inside), offThroughout: false };
    if (timeline.states[i] !== OFF) offThroughout = false;
  }
  return { firstOn: null, offThroughout };
}

/** Atoms in plain words, each with a note where it does not hold; at most {@link MOST_NAMED}. */
export function atomsText(atoms: readonly AtomState[], site: Site): string {
  const texts = [...new Set(atoms.map(({ atom, state }) => `${expressionText(atom, site)}${state === ON ? "" : state === OFF ? " (but this was false)" : " (not known)"}`))];
  const more = texts.length - MOST_NAMED;
  return texts.slice(0, MOST_NAMED).join("; ") + (more > 0 ? `; and ${more} more` : "");
}

function unverifiedText(looks: "right" | "wrong" | "unclear", atoms: readonly AtomState[], site: Site): string {
  const nobody = "Neither the diary nor two sensors that the rule does not use can tell.";
  return looks === "unclear"
    ? `${nobody} All sensors together cannot tell either.`
    : `${nobody} With the rule's own sensors counted too, it looks ${looks}: ${atomsText(atoms, site)}.`;
}

/** A witness that shares a board or a hub with the rule's signals is a weaker one, and the reader must know. */
function vouchersText(vouchers: readonly string[], { signals, causesOf }: PreparedRule): string[] {
  if (vouchers.length === 0) return [];
  const ownCauses = new Set(signals.flatMap(causesOf));
  const tied = vouchers.flatMap((voucher) => causesOf(voucher).filter((cause) => ownCauses.has(cause)).map((cause) => `${voucher} shares ${cause} with the rule's own sensors`));
  return [`Confirmed by ${listText(vouchers.map((voucher) => (voucher === "diary" ? "the diary" : voucher)))}.`, ...tied.map((tie) => `Note: ${tie}.`)];
}
