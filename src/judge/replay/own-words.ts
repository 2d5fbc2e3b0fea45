import { defaultRightWhen } from "../../site/default-right-when.js";
import { durationText } from "../../ground/duration.js";
import { expressionText } from "../../site/expression-text.js";
import type { Site, Subject } from "../../site/site.js";
import { plainWords, stateWords } from "../../site/state-words.js";
import { OFF, ON } from "../../timeline/timeline.js";
import { decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { witnessesOf } from "../rule/facts.js";
import { letsIn } from "../rule/prepare.js";
import { MOST_NAMED } from "../rule/words.js";
import { firingOutcome, judgeFiring, type FiringJudgement } from "./firing-outcomes.js";
import type { RuleOverHistory } from "./replay.js";

/**
 * A firing, and whether only the rule's own `right_when` makes it wrong: by the default of its act it would have been
 * right.
 */
export interface OwnWordsFiring extends FiringJudgement {
  readonly wrongByOwnWords: boolean;
}

/**
 * How many wrong firings are wrong by own words only, and what more `right_when` asked in them, most often asked first.
 */
export interface OwnWords {
  readonly count: number;
  readonly asked: readonly string[];
}

/**
 * Judges every firing of the rule, and each wrong one again by the default `right_when` of the rule's act (somebody
 * arrived; nobody is here). One that is right by the default, or that looks right by it where nobody outside the rule
 * can tell, is wrong only because `right_when` asks more. Its `why` says so and asks whether that is meant. None is
 * where `right_when` is the default.
 */
export function judgeFirings(rule: RuleOverHistory): { readonly firings: OwnWordsFiring[]; readonly ownWords: OwnWords } {
  const { spec, site, witnesses } = rule;
  const usual = spec.rightWhenIsDefault ? null : defaultRightWhen(spec.act, site.subjects);
  const usualFacts = usual === null ? null : witnessesOf(rule, rule.history, usual);
  const byDefault = (at: number): "right" | "looks right" | null => {
    if (usualFacts === null) return null;
    const outcome = firingOutcome(at, rule, usualFacts.outside);
    if (outcome !== "unverified") return outcome === "right" ? "right" : null;
    return firingOutcome(at, rule, usualFacts.full) === "right" ? "looks right" : null;
  };
  const asked = new Map<string, number>();
  const firings = rule.replayed.firings.map((at): OwnWordsFiring => {
    const firing = judgeFiring(at, rule);
    const usually = firing.outcome === "wrong" ? byDefault(at) : null;
    if (usually === null) return { ...firing, wrongByOwnWords: false };
    const obstacles = decidingAtoms(witnesses.outside.expression, witnesses.outside.parts, at);
    for (const { atom, state } of obstacles) {
      const text = state === OFF ? expressionText(atom, site) : `not (${expressionText(atom, site)})`;
      asked.set(text, (asked.get(text) ?? 0) + 1);
    }
    return { ...firing, wrongByOwnWords: true, why: `${firing.why} Wrong only by your own right_when: ${usually === "right" ? "" : "by the rule's own sensors "}${usualText(rule)}, but ${obstaclesText(obstacles, site)}. Do you mean that?` };
  });
  const count = firings.filter((one) => one.wrongByOwnWords).length;
  return { firings, ownWords: { count, asked: [...asked].sort((a, b) => b[1] - a[1]).map(([text]) => text) } };
}

/** What made it right by default, in the past: `both people were away`, `somebody had arrived`. */
function usualText({ spec: { act }, site }: RuleOverHistory): string {
  const people = site.subjects.filter((subject) => subject.class === "person");
  const judged = people.length > 0 ? people : site.subjects.filter((subject) => subject.class === "bay");
  if (letsIn(act)) return people.length > 0 ? "somebody had arrived" : "a vehicle had arrived";
  return `${everyText(judged, people.length > 0 ? "people" : "bays")} ${people.length > 0 ? "away" : "empty"}`;
}

function everyText(judged: readonly Subject[], noun: string): string {
  const [first, ...others] = judged;
  if (first !== undefined && others.length === 0) return `${first.id} was`;
  return others.length === 1 ? `both ${noun} were` : `all ${noun} were`;
}

/** What stood against it, in the past: `bay-2 was not empty`. Each once, at most {@link MOST_NAMED}. */
function obstaclesText(obstacles: readonly AtomState[], site: Site): string {
  const texts = [...new Set(obstacles.map((one) => pastText(one, site)))];
  const more = texts.length - MOST_NAMED;
  return `${texts.slice(0, MOST_NAMED).join("; ")}${more > 0 ? `; and ${more} more` : ""}`;
}

function pastText({ atom, state }: AtomState, site: Site): string {
  const subject = site.subjects.find(({ id }) => id === atom.ref);
  const words = subject === undefined ? plainWords : stateWords[subject.class];
  const so = state === ON;
  if (atom.op === "turned") return `${atom.ref} had ${so ? "" : "not "}turned ${atom.to === ON ? words.on : words.off} within ${durationText(atom.withinMs)}`;
  const word = atom.state === ON ? words.on : words.off;
  if (atom.heldMs !== null) return `${atom.ref} had ${so ? "" : "not "}been ${word} for ${durationText(atom.heldMs)}`;
  return `${atom.ref} was ${so ? "" : "not "}${word}${atom.recentlyMs === null ? "" : ` within ${durationText(atom.recentlyMs)}`}`;
}
