import { actNouns, confirmedDaysText, countText, seenText } from "../judge/rule/words.js";
import type { RoadBound } from "../result/decision.js";
import type { RuleFinding } from "../result/rules.js";

/** The bound that decides on each road, one-sided, over all months there are. */
export function roadsOf(rule: RuleFinding): RoadBound[] {
  return [countingOf(rule), designOf(rule)];
}

function countingOf({ act, reasons, cumulated, bounds: own, firings: ownFirings, evidence }: RuleFinding): RoadBound {
  const [bounds, firings] = [cumulated?.bounds ?? own, cumulated?.firings ?? ownFirings];
  const broken = reasons.some(({ code, effect }) => code === "wrong-lower-bound" && effect === "breaks");
  const years = broken ? (cumulated?.yearsSeen ?? evidence.yearsSeen) : (cumulated?.yearsConfirmed ?? evidence.yearsConfirmed);
  const noun = actNouns[act];
  const seen = years === 0 ? `none of ${countText(firings.count, noun.one, noun.many)} confirmed` : `${firings.wrong === 0 ? `no wrong ${noun.one}` : countText(firings.wrong, `wrong ${noun.one}`, `wrong ${noun.many}`)} in ${broken ? seenText(years) : confirmedDaysText(years)}`;
  return broken
    ? { road: "counting", side: "at least", perYear: bounds.wrongLower, holds: true, text: seen }
    : { road: "counting", side: "at most", perYear: bounds.wrongUpper, holds: true, text: bounds.wrongUpper === null ? "at some hours of the day nobody could tell" : seen };
}

function designOf({ act, singlePoints, design, cumulated }: RuleFinding): RoadBound {
  const none = { road: "design", side: "at most", perYear: null, holds: false } as const;
  const alone = singlePoints.signals.length > 0 ? singlePoints.signals : singlePoints.causes;
  if (alone.length > 0 && (act === "unlock" || act === "disarm")) return { ...none, text: `one false report of ${alone.join(" or ")} is enough` };
  const figures = cumulated === null ? (design?.figures ?? null) : cumulated.design;
  if (design === null || figures === null) return { ...none, text: act === "lock" || act === "arm" ? "not used for rules that lock" : "it has no two parts that can be told apart" };
  const failed = [...design.conditions, ...figures.conditions].filter(({ holds }) => !holds).length;
  if (figures.bound === null) return { ...none, text: "no day was seen on which it could be judged" };
  return failed === 0
    ? { ...none, perYear: figures.bound, holds: true, text: "two kinds of sensor must be wrong at once" }
    : { ...none, perYear: figures.bound, text: `does not count yet: ${failed === 1 ? "one condition is" : `${failed} conditions are`} not met` };
}
