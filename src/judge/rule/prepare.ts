import { group } from "d3-array";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Act, ActLimits, RuleSpec, Site } from "../../site/site.js";
import { MINUTE_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import { claimTree, leavesOf, type ClaimLeaf, type ClaimTree } from "./claims.js";

/** Where the site file sets no limits for an act: about the time people wait in front of a door. Our own choice. */
const DEFAULT_WITHIN_MS = 2 * MINUTE_MS;

/** What the rules of one act are held to. */
export interface Standard {
  readonly act: Act;
  /** Null where the site file sets none for the act. */
  readonly limits: ActLimits | null;
  /** Of every interval and bound, such as 0.95. */
  readonly confidence: number;
}

/** How far from the wanted instant a firing may be, in milliseconds. */
export interface Tolerance {
  /** A wanted instant is served when the firing comes at most this long after it. */
  readonly withinMs: number;
  /**
   * A firing this long before is right and serves too. Only for acts that let someone in: opening the door a minute
   * before the person is seen to arrive is what is wanted. Locking before the last one has left shuts someone out
   * or arms an alarm over them, so for lock and arm it is 0.
   */
  readonly earlyMs: number;
}

/** A rule with everything about it that its site settles, before any history is looked at. */
export interface PreparedRule {
  readonly spec: RuleSpec;
  readonly site: Site;
  readonly standard: Standard;
  readonly tolerance: Tolerance;
  /** Ids of the signals the condition reads, sorted. */
  readonly signals: readonly string[];
  /**
   * What its signals must seem to do for the condition to hold, and the leaves of that in the order of the condition.
   */
  readonly claims: ClaimTree;
  readonly leaves: readonly ClaimLeaf[];
  /**
   * The shared causes that any signal of the site depends on, and the signals that depend on a cause. Empty for unknown
   * names.
   */
  readonly causesOf: (signal: string) => readonly string[];
  readonly signalsOf: (cause: string) => readonly string[];
  /** Stirs: one may be still though somebody is there, and stir though nobody came, without a fault. */
  readonly isOneSided: (signal: string) => boolean;
}

/**
 * One period of a site: what each signal said, what most likely happened, and which signals one fault could move
 * together.
 */
export interface History {
  readonly period: Interval;
  readonly accounts: ReadonlyMap<string, SignalAccount>;
  readonly book: ReferenceBook;
  /** See `causeGroups`: the group of each signal connected to others through shared causes, declared or seen. */
  readonly groups: ReadonlyMap<string, string>;
  /** What exports hide, by signal: a rule that reads it cannot be judged then. Absent: nothing. */
  readonly hidden?: ReadonlyMap<string, readonly Interval[]>;
}

/** Prepares a rule of the site, or one that is only tried on it. */
export function prepareRule(site: Site, spec: RuleSpec): PreparedRule {
  const standard = standardOf(site, spec.act);
  const withinMs = standard.limits?.withinMs ?? DEFAULT_WITHIN_MS;
  const claims = claimTree(spec.when);
  const causes = new Map(site.signals.map(({ id, shares }) => [id, shares]));
  const stirs = new Set(site.signals.flatMap(({ id, kind }) => (kind === "stir" ? [id] : [])));
  const dependents = group(site.signals.flatMap(({ id, shares }) => shares.map((cause) => ({ id, cause }))), ({ cause }) => cause);
  return {
    spec,
    site,
    standard,
    tolerance: { withinMs, earlyMs: letsIn(spec.act) ? withinMs : 0 },
    signals: expressionRefs(spec.when),
    claims,
    leaves: leavesOf(claims),
    causesOf: (signal) => causes.get(signal) ?? [],
    isOneSided: (signal) => stirs.has(signal),
    signalsOf: (cause) => (dependents.get(cause) ?? []).map(({ id }) => id),
  };
}

/** What the site holds rules of the act to. */
export function standardOf({ limits, confidence }: Pick<Site, "limits" | "confidence">, act: Act): Standard {
  return { act, limits: limits[act] ?? null, confidence };
}

/** Whether the act lets someone in: a wrong one lets a stranger in. */
export function letsIn(act: Act): boolean {
  return act === "unlock" || act === "disarm";
}
