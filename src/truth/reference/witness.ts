/* eslint-disable @typescript-eslint/no-non-null-assertion --
   `times` and `states` of a timeline are parallel arrays, walked below their length */
import type { Interval } from "../../ground/intervals.js";
import { causeGroups } from "../../site/cause-groups.js";
import type { Site, SubjectClass } from "../../site/site.js";
import { type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import type { SignalAccount } from "../signals/account.js";
import { BOUNCE_MS } from "./priors.js";
import { lookUp } from "../../ground/look-up.js";

/** A signal as a witness: what it says about its subject, what it depends on, and what every reference needs of it. */
export interface Witness {
  readonly id: string;
  readonly subject: string;
  readonly class: SubjectClass;
  /** Shared causes, as the site file declares them. */
  readonly shares: readonly string[];
  /**
   * Name of the group of signals that it is connected with through shared causes, by any chain, or was found to depend
   * on ({@link causeGroups}).
   */
  readonly group: string;
  /** Others that it was found to depend on, though the site file names nothing that they share. */
  readonly twins: readonly string[];
  readonly account: Timeline;
  readonly restarts: readonly Interval[];
  readonly changes: Changes;
  /** Instants of the changes that were seen, in order. */
  readonly movements: Float64Array;
  /** Instants at which it becomes known or unknown, in order. */
  readonly edges: Float64Array;
}

/** One stir signal of a person: what it depends on, and when it noticed something, nothing, or was dark. */
export interface Stir {
  readonly id: string;
  readonly subject: string;
  readonly shares: readonly string[];
  readonly group: string;
  readonly heard: Timeline;
}

/**
 * The site's signals that have an account, in the site file's order. One without has nothing to say, but may still
 * connect two others: groups are made over all signals of the site, whatever their subject, and over pairs `detected`
 * to depend on one another.
 */
export function witnessesOf(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  detected: readonly (readonly [string, string])[] = [],
): Witness[] {
  const groups = voiceGroups(site, detected);
  const classes = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  return site.signals.flatMap((signal) => {
    const told = accounts.get(signal.id);
    const subjectClass = classes.get(signal.subject);
    if (told === undefined || subjectClass === undefined || signal.kind === "stir") return [];
    // A witness says no more than its signal vouches for.
    const account = { ...told, account: told.vote ?? told.account };
    const changes = changesOf(account, site.bridgeMs);
    return [
      {
        id: signal.id,
        subject: signal.subject,
        class: subjectClass,
        shares: signal.shares,
        group: lookUp(groups, signal.id),
        twins: detected.flatMap(([a, b]) => (a === signal.id ? [b] : b === signal.id ? [a] : [])),
        account: account.account,
        restarts: account.restarts,
        changes,
        movements: changes.at.filter((_, i) => changes.seen[i] === 1),
        edges: knownEdges(account.account),
      },
    ];
  });
}

/**
 * The stir signals of all persons that have an account, in the site file's order. They are no witnesses: they cannot say that
 * somebody is away.
 */
export function stirsOf(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  detected: readonly (readonly [string, string])[] = [],
): Stir[] {
  const groups = voiceGroups(site, detected);
  return site.signals.flatMap(({ id, subject, shares }): Stir[] => {
    const heard = accounts.get(id)?.stirring;
    return heard === undefined ? [] : [{ id, subject, shares, group: lookUp(groups, id), heard }];
  });
}

/**
 * As {@link causeGroups}, and the stir signals of one person are one group: a pet, a robot or the sun moves all of them, and no
 * history shows that it does not.
 */
function voiceGroups(site: Site, detected: readonly (readonly [string, string])[]): ReadonlyMap<string, string> {
  const stirs = site.signals.filter(({ kind }) => kind === "stir");
  const fellows = stirs.flatMap(({ id, subject }): [string, string][] => {
    const first = stirs.find((one) => one.subject === subject);
    return first === undefined || first.id === id ? [] : [[first.id, id]];
  });
  return causeGroups(site.signals, [...detected, ...fellows]);
}

function knownEdges(account: Timeline): Float64Array {
  const { times, states } = account;
  return times.filter((_, i) => i > 0 && (states[i] === UNKNOWN) !== (states[i - 1] === UNKNOWN));
}

/**
 * Changes of a signal from one known state to the other, in time order, also across an unknown stretch.
 * Change i came between `earliest[i]` and `at[i]` (equal when nothing was unknown in between) and leads to `to[i]`.
 * `seen[i]` is 1 when its instant is known: no gap, or one that the site bridges and that is no restart.
 */
export interface Changes {
  readonly at: Float64Array;
  readonly earliest: Float64Array;
  readonly to: Uint8Array;
  readonly seen: Uint8Array;
}

interface Change {
  readonly at: number;
  readonly earliest: number;
  readonly to: number;
  readonly seen: boolean;
}

/**
 * See {@link Changes}. A contact that bounces changes many times at one closing: seen changes each within
 * {@link BOUNCE_MS} of the one before count as one change, at the first of them; as none if they lead back to the old
 * state. Linear in the number of steps, times the few restarts that overlap a gap.
 */
export function changesOf(account: SignalAccount, bridgeMs: number): Changes {
  const kept: Change[] = [];
  let train: Change[] = [];
  const endTrain = (): void => {
    // Directions alternate: an odd number of changes leads where the first one led.
    const [first] = train;
    if (first !== undefined && train.length % 2 === 1) kept.push(first);
    train = [];
  };
  for (const change of everyChange(account, bridgeMs)) {
    const previous = train.at(-1);
    if (previous !== undefined && !(change.seen && previous.seen && change.at - previous.at <= BOUNCE_MS)) endTrain();
    train.push(change);
  }
  endTrain();
  return {
    at: Float64Array.from(kept, (one) => one.at),
    earliest: Float64Array.from(kept, (one) => one.earliest),
    to: Uint8Array.from(kept, (one) => one.to),
    seen: Uint8Array.from(kept, (one) => (one.seen ? 1 : 0)),
  };
}

function everyChange(account: SignalAccount, bridgeMs: number): Change[] {
  const { times, states } = account.account;
  const changes: Change[] = [];
  let lastKnown: number = UNKNOWN;
  let knownUntil = -Infinity;
  for (let i = 0; i < times.length; i += 1) {
    const to = states[i]!;
    if (to === UNKNOWN) continue;
    const at = times[i]!;
    if (lastKnown !== UNKNOWN && to !== lastKnown) {
      const earliest = knownUntil;
      const bridged = at - earliest <= bridgeMs && !account.restarts.some((one) => one.from < at && one.to > earliest);
      changes.push({ at, earliest, to, seen: at === earliest || bridged });
    }
    lastKnown = to;
    knownUntil = times[i + 1] ?? account.account.end;
  }
  return changes;
}
