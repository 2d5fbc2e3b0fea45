import { shellWord } from "../../ground/shell-word.js";
import { capitalised } from "../../ground/first-letter.js";
import { basename } from "node:path";
import type { Act } from "../../site/site.js";
import type { Reason, ReasonCode, RuleFinding, Verdict } from "../../result/rules.js";
import { letsIn } from "../rule/prepare.js";
import { actNouns, countInWords, countText, listText } from "../rule/words.js";
import type { Flip, Reach } from "./groups.js";

/** What a sentence about the questions of a rule is made from. */
export interface WhyParts {
  readonly act: Act;
  readonly finding: RuleFinding;
  /** Over all months. */
  readonly verdict: Verdict;
  /** Null where there is nothing to ask. */
  readonly reach: Reach | null;
  /** The cheapest one; null where no answers change the verdict. */
  readonly flip: Flip | null;
  /** Questions of the flip that wait for the answers to others. */
  readonly waiting: number;
  readonly unverifiedFirings: number;
  readonly unverifiedWanted: number;
  readonly afterDiary: number;
  /** The last day of the diary, as a date; null without one. */
  readonly ends: string | null;
  readonly siteFile: string;
}

/** Whether the rule is refused for what it is: one sensor or cause alone can open. No answer changes that. */
export function isHopeless(finding: Pick<RuleFinding, "act" | "singlePoints">): boolean {
  return letsIn(finding.act) && finding.singlePoints.signals.length + finding.singlePoints.causes.length > 0;
}

/** What answers can do for a rule, or why they can do nothing. */
export function whyText(parts: WhyParts): string {
  const { flip, finding, siteFile, reach } = parts;
  if (isHopeless(finding)) return `More answers change nothing: ${aloneText(finding)}.`;
  if (parts.verdict === "clear to enable" && flip === null) return clearText(parts);
  if (typeof reach?.tooMany === "number") return [...endsText(parts), `It would take ${reach.tooMany} answers to change the verdict. Keep a diary instead.`].join(" ");
  if (flip === null) return reach?.unlikely ? unlikelyText(parts, reach.unlikely) : nothingText(parts);
  const { group } = flip;
  const answers = countInWords(group.length, "answer", "answers", parts.waiting);
  return [...endsText(parts), ...oneForManyText(parts, group), `${capitalised(answers)} can change the verdict: run keyworthy confirm ${shellWord(basename(siteFile))}.`].join(" ");
}

/** What is open of a rule that is clear. */
function clearText({ act, unverifiedFirings }: WhyParts): string {
  const { one, many } = actNouns[act];
  return unverifiedFirings === 0 ? "It is clear, and nothing is open." : `It is clear. The bounds allow for the ${countText(unverifiedFirings, one, many)} that nobody confirmed.`;
}

/** Why questions are not asked though some answers would change the verdict. */
function unlikelyText({ act, finding: { firings: { right, wrong } } }: WhyParts, { needed, of, inFavour }: NonNullable<Reach["unlikely"]>): string {
  const out = inFavour ? "in the rule's favour" : "against the rule";
  const { one, many } = actNouns[act];
  const seen = `of ${countText(right + wrong, `confirmed ${one}`, `confirmed ${many}`)} ${wrong === 0 ? "none" : String(wrong)} ${wrong > 1 ? "were" : "was"} wrong`;
  return `Answers are too unlikely to change the verdict: ${needed} of ${of} would have to come out ${out}, and ${seen}. Keep a diary.`;
}

function aloneText({ singlePoints: { signals, causes }, act }: RuleFinding): string {
  const names = [...signals, ...causes];
  return `${listText(names, "or")} alone can ${act} it`;
}

/** Where the diary ends, if that is why moments are open. */
function endsText({ act, ends, unverifiedFirings, afterDiary }: WhyParts): string[] {
  if (ends === null || afterDiary === 0) return [];
  return [`Your diary stops on ${ends}; ${afterDiary} of ${countText(unverifiedFirings, `unconfirmed ${actNouns[act].one}`, `unconfirmed ${actNouns[act].many}`)} came after it.`];
}

/** A question that stands for several moments at once. */
function oneForManyText({ act, unverifiedFirings, unverifiedWanted }: WhyParts, group: Flip["group"]): string[] {
  const many = group.find(({ draft, moments }) => draft.sort === "routine" && moments.length > 1);
  if (many === undefined) return [];
  const told = (sort: "firing" | "wanted", all: number, noun: string): string[] => {
    const own = many.moments.filter((one) => one.sort === sort).length;
    return own === 0 ? [] : [`${own} of the ${all} ${noun}`];
  };
  const parts = [...told("firing", unverifiedFirings, `unconfirmed ${actNouns[act].many}`), ...told("wanted", unverifiedWanted, `moments at which ${actNouns[act].one === "unlock" ? "an unlock" : `a ${actNouns[act].one}`} may have been wanted`)];
  return [`One answer about a habit settles ${parts.join(" and ")}.`];
}

/** Why no answers change the verdict. */
function nothingText({ act, finding, reach, unverifiedFirings, unverifiedWanted }: WhyParts): string {
  if (unverifiedFirings + unverifiedWanted === 0) return "Nothing is open that somebody could tell.";
  if (reach === null) return "What is open is nothing that a person could tell: it was asked already, it is about doors, or too much moved at once.";
  const stands = reach.best.reasons.find(({ effect }) => effect === "breaks") ?? reach.best.reasons.find(({ effect }) => effect === "open");
  return `More answers change nothing: ${stands === undefined ? "the verdict is the same whatever they are" : standsText(stands, act, finding)}.`;
}

function standsText({ code }: Reason, act: Act, { cutSets }: RuleFinding): string {
  const { one, many } = actNouns[act];
  const texts: Partial<Record<ReasonCode, string>> = {
    "wrong-lower-bound": `wrong ${many} that are confirmed already are too many`,
    "wrong-upper-bound": "it takes a longer history",
    "missed-lower-bound": `too many ${many} were missed or late, and that is confirmed`,
    "missed-upper-bound": `too few ${many} were wanted so far`,
    "single-in-practice": `at times ${cutSets.inPractice.sets.find(({ signals, causes }) => signals.length + causes.length === 1)?.text ?? "one sensor"} alone would have been enough`,
    "nothing-wanted": `no ${one} was wanted`,
    "no-limits": `the site file sets no limits for ${act}`,
    "blind-time": "sensors were silent for too long",
    "unclear-time": "for too much of the time nobody can tell whether acting was wanted",
    "days-seen": "some days of the week were not seen often enough",
    "uneven-periods": "faults come in bad periods",
    "clock-offset": "two clocks are too far apart",
  };
  return texts[code] ?? "something else stands against it";
}
