import { expressionText } from "../../site/expression-text.js";
import type { Site } from "../../site/site.js";
import { stepAt } from "../../timeline/state-at.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import { decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { vouchersOf, type Facts } from "../rule/facts.js";
import type { FiringOutcome } from "../judgement.js";
import { MOST_NAMED } from "../rule/words.js";

/** What a firing was, judged without knowing which wanted instant it serves. */
export interface FiringJudgement {
  readonly at: number;
  readonly outcome: FiringOutcome;
  readonly looks: "right" | "wrong" | "unclear";
  readonly why: string;
  readonly vouchers: readonly string[];
  /** What one witness outside the rule makes of an unverified firing: support, no proof. Null where there is none, and of verified ones. */
  readonly supported: "right" | "wrong" | null;
}

/** What the facts of a firing are taken from. */
export interface Witnesses {
  /** Told by the diary or two independent witnesses that the rule's signals have nothing in common with: decides the outcome. */
  readonly outside: Facts;
  /** Told by any such witness, one alone included: supports, decides nothing. */
  readonly support: Facts;
  /** With everybody: decides what it looks like. */
  readonly full: Facts;
}

/**
 * Judges the firing at `at`: right when the facts are so at that instant or become so at most `earlyMs` later, wrong when
 * they are known not to be so all through that window, else nobody can tell. Time past the end of the history is unknown.
 */
export function judgeFiring(at: number, earlyMs: number, witnesses: Witnesses, signals: readonly string[], site: Site): FiringJudgement {
  const outside = within(witnesses.outside.truth, at, at + earlyMs);
  const full = within(witnesses.full.truth, at, at + earlyMs);
  const outcome = outcomeOf(outside);
  const looks = full.firstOn !== null ? "right" : full.offThroughout ? "wrong" : "unclear";
  if (outcome === "unverified") {
    const atoms = decidingAtoms(witnesses.full.expression, witnesses.full.parts, full.firstOn ?? at);
    const supported = supportOf(within(witnesses.support.truth, at, at + earlyMs));
    return { at, outcome, looks, why: `${supportText(supported)}${unverifiedText(looks, atoms, site)}`, vouchers: [], supported };
  }
  const decidedAt = outside.firstOn ?? at;
  const atoms = decidingAtoms(witnesses.outside.expression, witnesses.outside.parts, decidedAt);
  const vouchers = vouchersOf(
    atoms.map((one) => one.atom),
    witnesses.outside,
    decidedAt,
  );
  const why = [`${outcome === "right" ? "Right" : "Wrong"}: ${atomsText(atoms, site)}.`, ...vouchersText(vouchers, signals, site)].join(" ");
  return { at, outcome, looks, why, vouchers, supported: null };
}

function supportOf(window: ReturnType<typeof within>): FiringJudgement["supported"] {
  const outcome = outcomeOf(window);
  return outcome === "unverified" ? null : outcome;
}

function supportText(supported: FiringJudgement["supported"]): string {
  return supported === null ? "" : `One sensor outside the rule says that it was ${supported}; it takes two, or the diary. `;
}

/** The outcome alone of a firing at `at`, by the facts as witnesses outside the rule tell them: as {@link judgeFiring}, without words. */
export function firingOutcome(at: number, earlyMs: number, outsideTruth: Timeline): FiringOutcome {
  return outcomeOf(within(outsideTruth, at, at + earlyMs));
}

function outcomeOf(outside: ReturnType<typeof within>): FiringOutcome {
  return outside.firstOn !== null ? "right" : outside.offThroughout ? "wrong" : "unverified";
}

/** Whether the timeline is on at some instant of the closed window `[from, to]` (and when first), or known to be off throughout. */
export function within(timeline: Timeline, from: number, to: number): { readonly firstOn: number | null; readonly offThroughout: boolean } {
  let offThroughout = from >= timeline.start && to < timeline.end;
  const inside = Math.max(from, timeline.start);
  if (inside >= timeline.end) return { firstOn: null, offThroughout };
  for (let i = stepAt(timeline, inside); i < timeline.times.length && timeline.times[i]! <= to; i += 1) {
    if (timeline.states[i] === ON) return { firstOn: Math.max(timeline.times[i]!, inside), offThroughout: false };
    if (timeline.states[i] !== OFF) offThroughout = false;
  }
  return { firstOn: null, offThroughout };
}

/** Atoms in plain words, with those that are not so marked; at most {@link MOST_NAMED}. */
export function atomsText(atoms: readonly AtomState[], site: Site): string {
  const texts = [...new Set(atoms.map(({ atom, state }) => `${expressionText(atom, site)}${state === ON ? "" : state === OFF ? " (not so)" : " (unknown)"}`))];
  const more = texts.length - MOST_NAMED;
  return texts.slice(0, MOST_NAMED).join("; ") + (more > 0 ? `; and ${more} more` : "");
}

function unverifiedText(looks: "right" | "wrong" | "unclear", atoms: readonly AtomState[], site: Site): string {
  const nobody = "Neither the diary nor two sensors outside the rule can tell.";
  return looks === "unclear"
    ? `${nobody} All sensors together cannot tell either.`
    : `${nobody} With the rule's own signals counted in it looks ${looks}: ${atomsText(atoms, site)}.`;
}

/** A witness outside the rule that shares a board or a hub with the rule's signals is a weaker one, and the reader must know. */
function vouchersText(vouchers: readonly string[], signals: readonly string[], site: Site): string[] {
  if (vouchers.length === 0) return [];
  const sharesOf = new Map(site.signals.map((signal) => [signal.id, signal.shares]));
  const ownCauses = new Set(signals.flatMap((signal) => sharesOf.get(signal) ?? []));
  const tied = vouchers.flatMap((voucher) => (sharesOf.get(voucher) ?? []).filter((cause) => ownCauses.has(cause)).map((cause) => `${voucher} shares ${cause} with the rule's own signals`));
  return [`So ${vouchers.length === 1 ? "says" : "say"} ${vouchers.map((voucher) => (voucher === "diary" ? "the diary" : voucher)).join(", ")}.`, ...tied.map((tie) => `Note: ${tie}.`)];
}
