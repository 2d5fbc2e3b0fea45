/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import { stepAt } from "../../timeline/state-at.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import { confirmedTimeline } from "../rule/facts.js";
import type { ClaimLeaf } from "../rule/claims.js";
import type { WantedStretch } from "../replay/acting.js";
import type { RuleOverHistory } from "../replay/replay.js";

/** What truly happens this close to a wanted instant is part of the same event: a walk from the bay to the door. Our own choice. */
const SAME_EVENT_MS = 3 * MINUTE_MS;
/** What nobody can tell strays this far: further than what is part of the event, less far than what is surely not. Our own choice. */
const UNTOLD_MS = HOUR_MS;
/** Nothing strays further. Our own choice. */
const FURTHEST_MS = DAY_MS;

/** The best account of a subject, to hold a rule's claims about a wanted instant against. */
export type SubjectTruth = (subject: string) => Timeline;

/**
 * What truly happened around a wanted stretch: by those who confirmed it where it is verified, else by all witnesses; of
 * subjects that `right_when` does not name, by all witnesses.
 */
export function truthAround({ witnesses, history }: RuleOverHistory, { verified }: Pick<WantedStretch, "verified">): SubjectTruth {
  const known = new Map<string, Timeline>();
  return (subject) => {
    const before = known.get(subject);
    if (before !== undefined) return before;
    const told = (verified ? witnesses.outside : witnesses.full).references.get(subject) ?? history.book(subject, []);
    const timeline = confirmedTimeline(told);
    known.set(subject, timeline);
    return timeline;
  };
}

/**
 * How far what a claim says lies from what truly happened at the wanted instant, in milliseconds. 0: it is part of the
 * event, or says nothing that could be held against it. `window` is the time in which acting would have served.
 */
export function strayFrom(wantedAt: number, window: Interval, truthOf: SubjectTruth, subjectOf: (signal: string) => string | null, bridgeMs: number): (leaf: ClaimLeaf) => number {
  return ({ claim }) => {
    const subject = subjectOf(claim.signal);
    if (subject === null || claim.form === "mixed" || claim.form === "not-turned") return 0;
    const truth = truthOf(subject);
    if (claim.form === "turned") {
      const nearest = Math.min(FURTHEST_MS, ...turned(truth, claim.to, { bridgeMs, barriers: [] }).map(({ at }) => Math.abs(at - wantedAt)));
      if (nearest <= SAME_EVENT_MS) return 0;
      return truth.states[stepAt(truth, wantedAt)] === UNKNOWN ? Math.min(nearest, UNTOLD_MS) : nearest;
    }
    const away = awayFrom(truth, claim.state, window);
    return away === 0 ? 0 : Math.min(away, awayFrom(truth, UNKNOWN, window) === 0 ? UNTOLD_MS : FURTHEST_MS);
  };
}

/**
 * Whether what a claim says surely did not happen around the window: the signal told the truth, and the rule asks for more than
 * happened. Where nobody can tell it may have happened.
 */
export function didNotHappen({ claim, atom }: ClaimLeaf, truth: Timeline, window: Interval, bridgeMs: number): boolean {
  if (claim.form === "mixed" || claim.form === "not-turned" || awayFrom(truth, UNKNOWN, window) === 0) return false;
  if (claim.form !== "turned") return awayFrom(truth, claim.state, window) > 0;
  const reachMs = Math.max(SAME_EVENT_MS, atom.op === "turned" ? atom.withinMs : 0);
  return turned(truth, claim.to, { bridgeMs, barriers: [] }).every(({ at }) => at < window.from - reachMs || at > window.to + reachMs);
}

/** How far from the window the timeline is in the state, in milliseconds: 0 where it is at some instant of the window. */
function awayFrom(timeline: Timeline, state: number, { from, to }: Interval): number {
  let nearest = Infinity;
  timeline.times.forEach((begin, i) => {
    if (timeline.states[i]! !== state) return;
    const end = timeline.times[i + 1] ?? timeline.end;
    nearest = Math.min(nearest, begin > to ? begin - to : end <= from ? from - end : 0);
  });
  return nearest;
}
