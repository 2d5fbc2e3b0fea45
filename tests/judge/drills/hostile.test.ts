import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hostileCases, openScenes } from "../../../src/judge/drills/hostile.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import type { Site } from "../../../src/site/site.js";
import { expressions } from "./arbitrary.js";
import { replayedScenes } from "./replayed-scenes.js";
import { allOf, is, min, no, ruleOf, siteOf, turned } from "../small-site.js";
import { type HostileCase, quietStates, scenes } from "../../../src/result/trials.js";

const plain = siteOf({
  subjects: { mira: "person", "bay-1": "bay", "yard-door": "door" },
  signals: { "phone-mira": "mira", meter: "bay-1", rail: "yard-door" },
  shares: { "phone-mira": ["hub"], meter: ["board"], rail: ["board"] },
  bridgeMs: min(1),
});
const site: Site = { ...plain, signals: plain.signals.map((signal) => (signal.id === "phone-mira" ? { ...signal, kind: "phone" } : signal)) };

/** Two bays and two doors: a scene may happen in several ways. */
const two = siteOf({
  subjects: { mira: "person", noor: "person", "bay-1": "bay", "bay-2": "bay", "yard-door": "door", "side-door": "door" },
  signals: { "phone-mira": "mira", "phone-noor": "noor", meter: "bay-1", mat: "bay-2", rail: "yard-door", hinge: "side-door" },
  shares: { "phone-mira": ["hub"], "phone-noor": ["hub"], meter: ["board"], mat: ["hub"], rail: ["board"] },
  bridgeMs: min(1),
});
const yard: Site = { ...two, signals: two.signals.map((signal) => (signal.id.startsWith("phone") ? { ...signal, kind: "phone" } : signal)) };

/** Which of the eight unlock, as `scene number + empty/asleep`. */
function unlocking(when: Expression): string[] {
  return hostileCases(prepareRule(site, ruleOf(when, turned("mira", 1, 15), { restMs: min(5) })))
    .filter((one) => one.unlocks)
    .map(({ scene, state }) => `${scenes.indexOf(scene) + 1} ${state === "house empty" ? "empty" : "asleep"}`);
}

const only = (when: Expression, scene: number, state: HostileCase["state"]): HostileCase =>
  hostileCases(prepareRule(site, ruleOf(when, turned("mira", 1, 15)))).find((one) => one.scene === scenes[scene - 1] && one.state === state)!;

describe("hostile scenes", () => {
  it("are all played from both quiet states for a rule that lets someone in, and not for one that locks", () => {
    expect(hostileCases(prepareRule(site, ruleOf(is("rail", 1), turned("mira", 1, 15))))).toHaveLength(scenes.length * quietStates.length);
    expect(hostileCases(prepareRule(site, ruleOf(is("rail", 0), is("mira", 0), { act: "lock" })))).toEqual([]);
  });

  it("find that a rule that believes a phone unlocks for a forged one, and for whoever opens the door as its owner passes", () => {
    // 4: every sensor saying "off" first after a power cut looks like away, then here.
    expect(unlocking(turned("phone-mira", 1, 2))).toEqual(["1 empty", "2 empty", "2 asleep", "4 asleep"]);
  });

  it("find that an open door with a phone inside is enough for a rule that asks for no more", () => {
    expect(unlocking(allOf(is("phone-mira", 1), is("rail", 1)))).toEqual(["1 empty", "1 asleep"]);
  });

  it("find that a rule of bays unlocks for a stranger's vehicle", () => {
    expect(unlocking(turned("meter", 1, 2))).toEqual(["3 empty", "3 asleep", "4 asleep"]);
  });

  it("find that a rule written as not empty unlocks when the power comes back to sleeping people", () => {
    expect(unlocking(no(is("meter", 0)))).toEqual(["3 empty", "3 asleep", "4 asleep"]);
    expect(only(no(is("meter", 0)), 4, "people home asleep").why).toBe("30 s, all back at once: meter is empty (but this was false).");
  });

  it("find nothing that opens a rule which asks for phone, vehicle and door together", () => {
    const careful = allOf(turned("phone-mira", 1, 2), turned("meter", 1, 2), is("rail", 1));
    expect(unlocking(careful)).toEqual([]);
    expect(only(careful, 2, "house empty").why).toBe("phone of mira; in the way: meter turned occupied within 2 min (but this was false); rail is open (but this was false).");
  });

  it("say when no signal of the rule would tell of it", () => {
    expect(only(is("rail", 1), 3, "house empty")).toMatchObject({ unlocks: false, why: "None of the rule's sensors would notice it." });
  });

  it("begin from a quiet that the rule has come to rest in: only what happens after counts", () => {
    // After a power cut the phone has been away for 90 min anew, and the rule acts once more.
    expect(unlocking(is("phone-mira", 0, { heldMs: min(90) }))).toEqual(["4 empty"]);
  });

  it("come out as if each were replayed whole and by itself, for any condition", () => {
    let open = 0;
    fc.assert(
      fc.property(expressions(yard.signals.map(({ id }) => id)), (when) => {
        const rule = prepareRule(yard, ruleOf(when, turned("mira", 1, 15), { restMs: min(5) }));
        const cases = hostileCases(rule);
        const twin = replayedScenes(rule);
        expect(cases.map(({ scene, state, unlocks }) => ({ scene, state, unlocks }))).toEqual(twin.map(({ scene, state, unlocks }) => ({ scene, state, unlocks })));
        expect(openScenes(rule)).toEqual(cases.filter(({ unlocks }) => unlocks).map(({ scene, state }) => `${scene}, ${state}`));
        expect(cases.map(({ why, unlocks }) => !unlocks && why.includes("None of the rule's sensors"))).toEqual(twin.map(({ blocking, unlocks }) => !unlocks && blocking === null));
        expect(cases.map(({ why }) => why.includes("already true"))).toEqual(twin.map(({ blocking }) => blocking === 0));
        open += openScenes(rule).length;
      }),
      { numRuns: 150, seed: 20_261_127 },
    );
    expect(open).toBeGreaterThan(50);
  });
});
