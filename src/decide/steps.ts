import { shellWord } from "../ground/shell-word.js";
import { capitalised, uncapitalised } from "../ground/first-letter.js";
import { greatest, rollup } from "d3-array";
import { actNouns, countInWords, percentText, timesText } from "../judge/rule/words.js";
import type { NextStep } from "../result/decision.js";
import type { Undecided } from "../result/findings.js";
import type { RuleFinding } from "../result/rules.js";

/** A page of advice is not followed. Our own choice. */
const MOST_STEPS = 3;

/** What to do about a rule, the first thing first. */
export function stepsFor(rule: RuleFinding, findings: Undecided, siteFile: string): NextStep[] {
  const steps =
    rule.verdict === "clear to enable"
      ? [turnOn(rule), ...mending(rule, findings), everyMonth()]
      : rule.verdict === "do not enable"
        ? [takeOff(rule), ...instead(rule, findings, siteFile), ...mending(rule, findings)]
        : [...questions(rule, findings, siteFile), ...mending(rule, findings), ...widening(rule), ...asking(rule), ...better(rule, findings, siteFile), ...waiting(rule, findings)];
  return steps.slice(0, MOST_STEPS);
}

const step = (sort: NextStep["sort"], short: string, text: string, why: string, command: string | null = null): NextStep => ({ sort, short, text, why, command });

function turnOn({ reasons, design }: RuleFinding): NextStep {
  const clears = (code: string): boolean => reasons.some((one) => one.code === code && one.effect === "clears");
  const restsOn = clears("wrong-upper-bound") || !clears("by-design") ? "" : design?.commonShareBecause == null ? "It rests on an assumption about shared causes. " : "It rests on what you stated about shared causes. ";
  return step("turn on", "turn it on, with a manual way in", "Turn it on, and keep a manual way in and out.", `${restsOn}The caution below says what this report cannot show.`);
}

function everyMonth(): NextStep {
  return step("audit again", "audit again next month", "Audit again every month.", "It holds for months like those seen.");
}

function takeOff({ act, reasons, singlePoints }: RuleFinding): NextStep {
  const [alone] = [...singlePoints.signals, ...singlePoints.causes];
  const single = reasons.some(({ code, effect }) => effect === "breaks" && (code === "single-signal" || code === "single-cause"));
  if (single && alone !== undefined) return step("take off", "take it off: one false report is enough", "Take it off the list.", `One false report of ${alone} is enough to ${act}. More history does not help.`);
  const missed = reasons.some(({ code, effect }) => effect === "breaks" && code === "missed-lower-bound");
  const { many } = actNouns[act];
  return step("take off", missed ? "take it off: it comes too seldom or too late" : `take it off: too many wrong ${many}`, "Take it off the list.", "It breaks your limit already, and a longer history does not change that.");
}

/** A rule to put in its place. */
function instead(rule: RuleFinding, findings: Undecided, siteFile: string): NextStep[] {
  const own = better(rule, findings, siteFile);
  if (own.length > 0) return own;
  const order = ["clear to enable", "not proven yet"];
  const other = findings.rules.filter(({ name, act, verdict }) => name !== rule.name && act === rule.act && order.includes(verdict)).toSorted((a, b) => order.indexOf(a.verdict) - order.indexOf(b.verdict))[0];
  if (other === undefined) return [];
  const { wrong } = other.firings;
  const fared = wrong === 0 ? "It was not wrong once" : `It was wrong ${timesText(wrong)}`;
  return [step("use another", `work on “${other.name}” instead`, `Work on “${other.name}” instead.`, `${fared} in the same time.`)];
}

function questions({ name }: RuleFinding, { questions: { rules } }: Undecided, siteFile: string): NextStep[] {
  const own = rules.find((one) => one.rule === name);
  const count = own?.settledBy ?? null;
  if (own === undefined || count === null) return [];
  const many = countInWords(count, "question", "questions", own.waiting);
  return [step("answer", `answer ${many}`, `Answer ${many}.`, "The answers can change the verdict. Nobody else can tell.", `keyworthy confirm ${shellWord(siteFile)}`)];
}

/** What to mend for its sake: what did most to this rule, weighed as the list of all rules is. */
function mending({ name }: RuleFinding, { mend }: Undecided): NextStep[] {
  const found = mend.flatMap((one) => one.rules.filter(({ rule, wrong, maybeWrong, failed, unjudged }) => rule === name && wrong + maybeWrong + failed + unjudged > 0).map((effect) => ({ one, effect })));
  const harm = ({ wrong, maybeWrong, failed, unjudged }: Undecided["mend"][number]["rules"][number]): number => 10 * wrong + 3 * (maybeWrong + unjudged) + failed;
  const first = greatest(found, ({ effect }) => harm(effect));
  if (first === undefined) return [];
  const { one, effect } = first;
  return [step("mend", uncapitalised(one.text.replace(/\.$/, "")), one.text, `${capitalised(effect.did.join("; "))}.`)];
}

/** Fewer misses show nothing of what a rule asks. Our own choice. */
const FEWEST_ASKED = 3;

/** Where most misses are no sensor's fault, the rule asks for what did not happen: a vehicle, where somebody came on foot. */
function asking({ act, wantedList }: RuleFinding): NextStep[] {
  const failed = wantedList.filter(({ outcome }) => outcome !== "served");
  const unasked = failed.flatMap(({ culprit }) => (culprit?.what === "did not happen" ? [culprit.condition] : []));
  if (unasked.length < FEWEST_ASKED || 2 * unasked.length <= failed.length) return [];
  const [often] = [...rollup(unasked, (same) => same.length, (condition) => condition)].toSorted((a, b) => b[1] - a[1]);
  const why = `At ${unasked.length} of ${failed.length} missed or late ${actNouns[act].many} no sensor failed: “${often?.[0] ?? ""}” was truly not so.`;
  return [step("widen", "look at right_when", "Say in right_when what must come, if it need not act without it.", why)];
}

/** A change in the site file that opens the road of design. */
function widening({ design }: RuleFinding): NextStep[] {
  const cover = design?.conditions.find(({ code, holds }) => code === "cover" && !holds);
  if (cover?.line === undefined) return [];
  return [step("widen", "look at right_when", `Write “${cover.line}” into right_when only if acting that long after an arrival is all right.`, "It loosens what counts as right; then the way by design can count.")];
}

function better({ name }: RuleFinding, { proposals }: Undecided, siteFile: string): NextStep[] {
  const own = proposals.find((one) => one.rule === name)?.proposals[0];
  return own === undefined ? [] : [step("try better", "try the better rule that was found", "Try the better rule that was found.", own.why, `keyworthy propose ${shellWord(siteFile)}`)];
}

/** What to do about the diary: there may be none yet. */
export function diaryText({ diary }: Pick<Undecided, "diary">): string {
  return diary.entries === 0 ? "Start a diary." : "Keep the diary going.";
}

/** How long it may take, and on which road. */
function waiting({ act, claims: own, cumulated, wrongPerYear: { limit }, evidence, reasons }: RuleFinding, findings: Pick<Undecided, "diary">): NextStep[] {
  const text = diaryText(findings);
  const short = uncapitalised(text.replace(/\.$/, ""));
  const unclear = reasons.find(({ code, effect }) => code === "unclear-time" && effect === "open");
  if (typeof unclear?.measured === "number" && unclear.limit !== null) {
    return [step("wait", short, text, `For ${percentText(unclear.measured, "up")} of the time nobody can tell whether it was needed; ${percentText(unclear.limit)} is the most to judge by.`)];
  }
  const claims = cumulated?.claims ?? own;
  const enough = limit === null ? undefined : claims.find(({ moreMonths, byCounting, byDesign }) => moreMonths > 0 && Math.min(byCounting ?? Infinity, byDesign ?? Infinity) <= limit);
  if (enough !== undefined) return [step("wait", short, text, `${enough.moreMonths} more months like these could be enough.`)];
  const more = evidence.moreWantedServed;
  if (more !== null && more > 0) return [step("wait", short, text, `It takes ${more} more ${actNouns[act].many} in time to show that it misses few.`)];
  return [step("wait", short, text, "Two years like these would not be enough by counting alone: see the reasons.")];
}
