import { whatToAsk, type AskContext } from "../../../src/judge/questions/ask.js";
import type { JudgedRule } from "../../../src/judge/questions/suppose.js";
import { judgeRule } from "../../../src/judge/judge.js";
import type { Diary } from "../../../src/intake/diary.js";
import type { Questions } from "../../../src/result/questions.js";
import type { ActLimits, Site } from "../../../src/site/site.js";
import type { Interval } from "../../../src/ground/intervals.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { accountsOf, allOf, anyOf, min, over, ruleOf, siteOf, turned } from "../small-site.js";

/** Two people with a phone each, and a gate; the rule unlocks when a phone and the gate turn, and is right when one of the two came. */
export function household(limits: ActLimits): Site {
  return siteOf({ subjects: { gate: "door", sam: "person", robin: "person" }, signals: { "gate-contact": "gate", "phone-sam": "sam", "phone-robin": "robin" }, limits: { unlock: limits } });
}

export const rule = ruleOf(allOf(anyOf(turned("phone-sam", 1, 5), turned("phone-robin", 1, 5)), turned("gate-contact", 1, 5)), anyOf(turned("sam", 1, 15), turned("robin", 1, 15)));

/** What a diary says besides its entries. */
export type Written = Partial<Pick<Diary, "entries" | "unknown" | "twice">>;

/** What is asked of the household, and the rule as it was judged. Times in `told` are minutes; `allMonths` gives the verdict over all months. */
export function asked(site: Site, told: Readonly<Record<string, string>>, period: Interval, written: Written = {}, spec = rule, allMonths: AskContext["over"] = (finding) => finding): { readonly questions: Questions; readonly judged: JudgedRule } {
  const accounts = accountsOf(told, [], period);
  const diary = { entries: [], unknown: [], twice: [], ...written };
  const prepared = over(site, spec, accounts, makeReferenceBook(site, accounts, diary.entries, period), period);
  const judged: JudgedRule = { rule: prepared, finding: { ...judgeRule(prepared), digest: "", cumulated: null, drills: [], hostile: [], tuning: null }, context: {} };
  const context: AskContext = { site, period, accounts, diary, bare: () => makeReferenceBook(site, accounts, [], period), over: allMonths };
  return { questions: whatToAsk([judged], context), judged };
}

export const days = (count: number): Interval => ({ from: 0, to: min(count * 24 * 60) });
