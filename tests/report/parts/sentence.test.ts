import { expect, test } from "vitest";
import { leadText, sentenceAfterVerdict } from "../../../src/report/parts/sentence.js";
import type { RuleFinding } from "../../../src/result/rules.js";
import { exampleFindings } from "../example-findings.js";

const [example] = exampleFindings.rules;
const saying = (verdict: RuleFinding["verdict"], sentence: string): RuleFinding => ({ ...example!, verdict, sentence });

test("the sentence stands without the verdict, which is shown beside it", () => {
  expect(sentenceAfterVerdict(saying("not proven yet", "Not proven yet: no wrong unlock in 20.8 confirmed days allows up to 153 a year."))).toBe("No wrong unlock in 20.8 confirmed days allows up to 153 a year.");
  expect(sentenceAfterVerdict(saying("clear to enable", "Clear to enable by design: at most 0.75 a year."))).toBe("By design: at most 0.75 a year.");
});

test("of a clear rule its bounds come first; what they rest on is left to its reasons", () => {
  expect(leadText(saying("clear to enable", "Clear to enable by design: at most 0.75 a year (limit 1), 19 times in 20. This rests on what you stated. Seen: October 2026."))).toBe("By design: at most 0.75 a year (limit 1), 19 times in 20.");
  expect(leadText(saying("clear to enable", "Clear to enable: at most 0.75 a year."))).toBe("At most 0.75 a year.");
});

test("of any other rule nothing is left out", () => {
  const sentence = "110 wrong lockings in 273 days mean at least 124 a year. This counts 9 periods.";
  expect(leadText(saying("do not enable", `Do not enable: ${sentence}`))).toBe(sentence);
});
