/**
 * Common practice, no source: how people who build their own garage sensing tell arrival and departure apart from
 * everything that looks like it. Two distance meters over a bay, two contacts on a door, a phone a person, one vehicle a bay.
 */
import { describe, expect, it } from "vitest";
import { judgeRule } from "../../src/judge/judge.js";
import { lyingSets } from "../../src/judge/fooled/lying-sets.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import type { Expression } from "../../src/site/expression.js";
import type { SignalAccount } from "../../src/truth/signals/account.js";
import { accountsOf, allOf, anyOf, bookOf, is, min, no, over, ruleOf, siteOf, turned } from "../judge/small-site.js";
import type { RuleJudgement } from "../../src/result/rules.js";

const site = siteOf({
  subjects: { "bay-1": "bay", "bay-2": "bay", "yard-door": "door", mira: "person", tom: "person" },
  signals: {
    "bay-1-overhead": "bay-1",
    "bay-1-wall": "bay-1",
    "bay-2-overhead": "bay-2",
    "bay-2-wall": "bay-2",
    "yard-door-rail": "yard-door",
    "yard-door-frame": "yard-door",
    "phone-mira": "mira",
    "phone-tom": "tom",
  },
  shares: {
    "bay-1-overhead": ["board-a"],
    "bay-2-overhead": ["board-a"],
    "yard-door-rail": ["board-a"],
    "bay-1-wall": ["board-b"],
    "bay-2-wall": ["board-b"],
    "yard-door-frame": ["board-b"],
  },
  limits: { lock: { wrongPerYear: 2, missedShare: 0.1, withinMs: min(15) }, unlock: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: min(2) } },
  bridgeMs: min(1),
});

/** A quiet day: both vehicles in, the door shut, both people at home. */
const atHome = {
  "bay-1-overhead": "0 on",
  "bay-1-wall": "0 on",
  "bay-2-overhead": "0 on",
  "bay-2-wall": "0 on",
  "yard-door-rail": "0 off",
  "yard-door-frame": "0 off",
  "phone-mira": "0 on",
  "phone-tom": "0 on",
};
/** The same with everyone and everything away. */
const deserted = { ...atHome, "bay-1-overhead": "0 off", "bay-1-wall": "0 off", "bay-2-overhead": "0 off", "bay-2-wall": "0 off", "phone-mira": "0 off", "phone-tom": "0 off" };

type Day = Readonly<Record<keyof typeof atHome, string>>;

/** Minutes of the firings. What truly happened is not the point here. */
function firings(when: Expression, history: Day, restarts: SignalAccount["restarts"] = []): number[] {
  return judged(when, history, restarts).firingList.map((firing) => firing.at / min(1));
}

function judged(when: Expression, history: Day, restarts: SignalAccount["restarts"] = []): RuleJudgement {
  const book = bookOf({ mira: { truth: history["phone-mira"] }, tom: { truth: history["phone-tom"] } });
  return judgeRule(over(site, ruleOf(when, anyOf(turned("mira", 1, 2), turned("tom", 1, 2))), accountsOf(history, restarts), book));
}

const signals = (...subjects: string[]): string[] => site.signals.filter((signal) => subjects.includes(signal.subject)).map((signal) => signal.id);

describe("a departure rule that needs both vehicles away by both meters, the door closed by both contacts, both phones away", () => {
  const departure = allOf(...signals("bay-1", "bay-2", "yard-door", "mira", "tom").map((signal) => is(signal, 0)));

  it("does not lock when people walk off with their phones", () => {
    expect(firings(departure, { ...atHome, "phone-mira": "0 on, 600 off, 660 on", "phone-tom": "0 on, 601 off, 660 on" })).toEqual([]);
  });

  it("does not lock when one vehicle leaves, nor when a meter loses its echo", () => {
    const oneLeft = { "bay-1-overhead": "0 on, 605 off", "bay-1-wall": "0 on, 605 off", "phone-mira": "0 on, 606 off", "phone-tom": "0 on, 606 off" };
    expect(firings(departure, { ...atHome, ...oneLeft })).toEqual([]);
    expect(firings(departure, { ...atHome, ...oneLeft, "bay-2-overhead": "0 on, 610 off" })).toEqual([]);
  });

  it("locks when both have driven off, the door is down and the phones are out of reach: with the last of these", () => {
    const bothLeft: Day = {
      ...atHome,
      "bay-1-overhead": "0 on, 605 off",
      "bay-1-wall": "0 on, 605 off",
      "bay-2-overhead": "0 on, 607 off",
      "bay-2-wall": "0 on, 607 off",
      "yard-door-rail": "0 off, 604 on, 608 off",
      "yard-door-frame": "0 off, 604 on, 609 off",
      "phone-mira": "0 on, 612 off",
      "phone-tom": "0 on, 611 off",
    };
    expect(firings(departure, bothLeft)).toEqual([612]);
  });

  it("does not lock while one of two phones on a dead battery cannot tell", () => {
    const flatBattery = { ...deserted, "phone-mira": "0 on, 600 off", "phone-tom": "0 on, 590 ?" };
    expect(firings(departure, flatBattery)).toEqual([]);
  });
});

describe("an arrival rule that needs a vehicle turning from away to home by both meters, the door open by both contacts, a phone arriving", () => {
  const vehicleArrives = (bay: string): Expression => allOf(...signals(bay).map((signal) => turned(signal, 1, 2)));
  const arrival = allOf(
    anyOf(vehicleArrives("bay-1"), vehicleArrives("bay-2")),
    ...signals("yard-door").map((signal) => is(signal, 1)),
    anyOf(...signals("mira", "tom").map((signal) => turned(signal, 1, 10))),
  );
  const comesHome = { ...deserted, "phone-mira": "0 off, 600 on", "yard-door-rail": "0 off, 601 on, 605 off", "yard-door-frame": "0 off, 601 on, 605 off" };

  it("does not unlock for a phone alone, nor for a door alone, nor for both without a vehicle", () => {
    expect(firings(arrival, { ...deserted, "phone-mira": "0 off, 600 on" })).toEqual([]);
    expect(firings(arrival, { ...deserted, "yard-door-rail": "0 off, 600 on", "yard-door-frame": "0 off, 600 on" })).toEqual([]);
    expect(firings(arrival, comesHome)).toEqual([]);
  });

  it("does not unlock when someone walks past one meter", () => {
    expect(firings(arrival, { ...comesHome, "bay-1-overhead": "0 off, 602 on, 602.2 off" })).toEqual([]);
  });

  it("does not unlock for a vehicle that was there already", () => {
    expect(firings(arrival, { ...comesHome, "bay-1-overhead": "0 on", "bay-1-wall": "0 on" })).toEqual([]);
  });

  it("unlocks when the vehicle stands in its bay by both meters", () => {
    expect(firings(arrival, { ...comesHome, "bay-1-overhead": "0 off, 602 on", "bay-1-wall": "0 off, 602.5 on" })).toEqual([602.5]);
  });

  it("does not unlock when the hub restarts while everyone is home and the door stands open", () => {
    const dark = "0 on, 600 ?, 600.5 on";
    const restarted: Day = { ...atHome, "bay-1-overhead": dark, "bay-1-wall": dark, "yard-door-rail": "0 on, 600 ?, 600.5 on", "yard-door-frame": "0 on, 600 ?, 600.5 on", "phone-mira": dark };
    expect(firings(arrival, restarted, [{ from: min(600), to: min(600.5), cause: "hub" }])).toEqual([]);
  });

  it("can be deceived by no single signal and no single board, but by both boards and a phone", () => {
    expect(judged(arrival, deserted).singlePoints).toEqual({ signals: [], causes: [] });
    const [smallest] = lyingSets(prepareRule(site, ruleOf(arrival, is("mira", 1)))).sets;
    expect(smallest?.map((liar) => liar.name)).toEqual(["board-a", "board-b", "phone-mira"]);
  });
});

describe("a rule that says 'not empty' where it means 'has arrived'", () => {
  const naive = no(is("bay-1-wall", 0));
  const careful = turned("bay-1-wall", 1, 2);
  const restart = [{ from: min(600), to: min(600.5), cause: "board-b" }];

  it("unlocks when a sensor comes back after a restart, though nobody came", () => {
    const history = { ...atHome, "bay-1-wall": "0 on, 600 ?, 600.5 on" };
    expect(firings(naive, history, restart)).toEqual([600.5]);
    expect(firings(careful, history, restart)).toEqual([]);
  });

  it("unlocks when what was empty before the restart reads 'present' after it; a turn is not believed over it either", () => {
    const history = { ...atHome, "bay-1-wall": "0 off, 600 ?, 600.5 on" };
    expect(firings(naive, history, restart)).toEqual([600.5]);
    expect(firings(careful, history, restart)).toEqual([]);
  });

  it("both unlock on a true arrival, and both hang on that one sensor", () => {
    const history = { ...atHome, "bay-1-wall": "0 off, 600 on" };
    expect(firings(naive, history)).toEqual([600]);
    expect(firings(careful, history)).toEqual([600]);
    expect(judged(naive, history).singlePoints.signals).toEqual(["bay-1-wall"]);
    expect(judged(careful, history).singlePoints.signals).toEqual(["bay-1-wall"]);
    expect(judged(careful, history).verdict).toBe("do not enable");
  });
});
