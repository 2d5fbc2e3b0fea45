import type { ReferenceBook } from "../../truth/reference/reference.js";
import { defaultRightWhen } from "../../site/default-right-when.js";
import { durationText } from "../../site/duration.js";
import { expressionText } from "../../site/expression-text.js";
import type { RuleSpec, Site, Subject } from "../../site/site.js";
import { plainWords, stateWords } from "../../site/state-words.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import { decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { factsOutside, factsWithout, type Facts } from "../rule/facts.js";
import type { Reason } from "../judgement.js";
import { firingOutcome, type FiringJudgement } from "./outcomes.js";
import { letsIn } from "../rule/prepare.js";
import { actNouns, countText, MOST_NAMED } from "../rule/words.js";

/** A firing of which is told whether only the rule's own `right_when` makes it wrong: by the default of its act it would have been right. */
export interface OwnWordsFiring extends FiringJudgement {
  readonly wrongByOwnWords: boolean;
}

/** How many wrong firings are wrong by own words only, and what `right_when` asked more in them, most often asked first. */
export interface OwnWords {
  readonly count: number;
  readonly asked: readonly string[];
}

/**
 * Judges each wrong firing once more by the default `right_when` of the rule's act (somebody arrived; nobody is here), by the same measure:
 * one that is right by that, or that nobody outside the rule can tell of and that looks right with everybody's word, is wrong only
 * because `right_when` asks more. Its `why` says so and asks whether it is meant. A rule whose `right_when` is the default has none. `own` are the facts that judged the firings.
 */
export function judgedByOwnWords(
  rule: RuleSpec,
  site: Site,
  firings: readonly FiringJudgement[],
  own: Facts,
  groups: ReadonlyMap<string, string>,
  book: ReferenceBook,
  earlyMs: number,
): { readonly firings: OwnWordsFiring[]; readonly ownWords: OwnWords } {
  const usual = rule.rightWhenIsDefault ? null : defaultRightWhen(rule.act, site.subjects);
  const outside: Timeline | null = usual === null ? null : factsOutside({ ...rule, rightWhen: usual }, groups, book, site.bridgeMs, "verified").truth;
  const full: Timeline | null = usual === null ? null : factsWithout([], usual, book, site.bridgeMs).truth;
  const byDefault = (at: number): "right" | "looks right" | null => {
    if (outside === null || full === null) return null;
    const outcome = firingOutcome(at, earlyMs, outside);
    if (outcome !== "unverified") return outcome === "right" ? "right" : null;
    return firingOutcome(at, earlyMs, full) === "right" ? "looks right" : null;
  };
  const asked = new Map<string, number>();
  const judged = firings.map((firing): OwnWordsFiring => {
    const usually = firing.outcome === "wrong" ? byDefault(firing.at) : null;
    if (usually === null) return { ...firing, wrongByOwnWords: false };
    const obstacles = decidingAtoms(own.expression, own.parts, firing.at);
    for (const { atom, state } of obstacles) {
      const text = state === OFF ? expressionText(atom, site) : `not (${expressionText(atom, site)})`;
      asked.set(text, (asked.get(text) ?? 0) + 1);
    }
    return { ...firing, wrongByOwnWords: true, why: `${firing.why} Wrong only by your own words: ${usually === "right" ? "" : "by the rule's own sensors "}${usualText(rule, site)}, but ${obstaclesText(obstacles, site)}. Is that meant?` };
  });
  const count = judged.filter((one) => one.wrongByOwnWords).length;
  return { firings: judged, ownWords: { count, asked: [...asked].sort((a, b) => b[1] - a[1]).map(([text]) => text) } };
}

/** The reason that says so beside a verdict; it decides nothing: the rule is judged by what the site file says. */
export function ownWordsReasons(act: RuleSpec["act"], wrong: number, ownWords: OwnWords | undefined): Reason[] {
  if (ownWords === undefined || ownWords.count === 0) return [];
  const { one, many } = actNouns[act];
  const { count, asked } = ownWords;
  const more = asked.length > MOST_NAMED ? ` and ${asked.length - MOST_NAMED} more` : "";
  const text =
    `${count} of ${countText(wrong, `wrong ${one}`, `wrong ${many}`)} ${count === 1 ? "is" : "are"} wrong only because right_when also asks this: ` +
    `${asked.slice(0, MOST_NAMED).join("; ")}${more}. If that is not meant, take it out of right_when.`;
  return [{ code: "own-words", effect: "noted", text, measured: count, limit: null, unit: many }];
}

/** What made it right by default, in the past: `both people were away`, `somebody had arrived`. */
function usualText({ act }: RuleSpec, site: Site): string {
  const people = site.subjects.filter((subject) => subject.class === "person");
  const judged = people.length > 0 ? people : site.subjects.filter((subject) => subject.class === "bay");
  if (letsIn(act)) return people.length > 0 ? "somebody had arrived" : "a vehicle had arrived";
  return `${everyText(judged, people.length > 0 ? "people" : "bays")} ${people.length > 0 ? "away" : "empty"}`;
}

function everyText(judged: readonly Subject[], noun: string): string {
  if (judged.length === 1) return `${judged[0]!.id} was`;
  return judged.length === 2 ? `both ${noun} were` : `all ${noun} were`;
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
