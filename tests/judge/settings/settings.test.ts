import { describe, expect, it } from "vitest";
import type { Band, Site } from "../../../src/site/site.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import { changedCondition, changesOf, joined, noDifference } from "../../../src/judge/settings/settings.js";
import { allOf, anyOf, is, min, quorum, ruleOf, siteOf, turned } from "../small-site.js";

const plain = siteOf({ subjects: { mira: "person", tom: "person", bay: "bay" }, signals: { "phone-mira": "mira", "phone-tom": "tom", overhead: "bay", wall: "bay" } });
const site: Site = { ...plain, signals: plain.signals.map((one) => (one.id === "overhead" ? { ...one, band: { nearMetres: 1, farMetres: 1.4, slackMetres: 0, maximumMetres: 5 } } : one)) };
const texts = (when: Parameters<typeof ruleOf>[0], more = {}): string[] => changesOf(prepareRule(site, ruleOf(when, turned("mira", 1, 15), more))).map(({ text }) => text);

describe("the settings of a rule", () => {
  it("are its times, those that were likely written as one moved as one", () => {
    const when = anyOf(turned("phone-mira", 1, 10), turned("phone-tom", 1, 10), turned("wall", 1, 10));
    expect(texts(when).filter((text) => text.includes("within"))).toEqual([
      ...["2 min 30 s", "5 min", "7 min 30 s", "15 min", "20 min", "40 min"].map((time) => `phone-mira, phone-tom: within ${time} instead of 10 min`),
      ...["2 min 30 s", "5 min", "7 min 30 s", "15 min", "20 min", "40 min"].map((time) => `wall: within ${time} instead of 10 min`),
    ]);
  });

  it("are its rest, tried at a few lengths where there is none", () => {
    expect(texts(is("wall", 1))).toEqual(["rest 1 min instead of 0 s", "rest 5 min instead of 0 s", "rest 15 min instead of 0 s"]);
    expect(texts(is("wall", 1), { restMs: min(4) })[0]).toBe("rest 1 min instead of 4 min");
  });

  it("are how many of like signals must agree, but not how many of unlike conditions", () => {
    const agree = (when: Parameters<typeof ruleOf>[0]): string[] => texts(when).filter((text) => text.startsWith("at least"));
    expect(agree(anyOf(is("phone-mira", 1), is("phone-tom", 1)))).toEqual(["at least 2 instead of 1 of (phone-mira is here; phone-tom is here)"]);
    expect(agree(allOf(is("phone-mira", 1), is("wall", 1)))).toEqual([]);
    expect(agree(quorum(2, is("phone-mira", 1), is("wall", 1), is("phone-tom", 0)))).toHaveLength(2);
  });

  it("are the two edges of a band, a few hundredths of its width at a time", () => {
    expect(texts(is("overhead", 1)).filter((text) => text.includes("edge"))).toEqual([
      "overhead: near edge 0.96 m instead of 1 m", "overhead: near edge 0.98 m instead of 1 m", "overhead: near edge 1.02 m instead of 1 m", "overhead: near edge 1.04 m instead of 1 m",
      "overhead: far edge 1.36 m instead of 1.4 m", "overhead: far edge 1.38 m instead of 1.4 m", "overhead: far edge 1.42 m instead of 1.4 m", "overhead: far edge 1.44 m instead of 1.4 m",
    ]);
  });
});

it("the edges of a band are never moved into the readings of an empty bay", () => {
  const told: Site = { ...site, signals: site.signals.map((one) => (one.band === null ? one : { ...one, band: { ...one.band, empty: [{ nearMetres: 1.41, farMetres: 2 }] } })) };
  const edges = changesOf(prepareRule(told, ruleOf(is("overhead", 1), turned("mira", 1, 15)))).map(({ text }) => text).filter((text) => text.includes("far edge"));
  expect(edges).toEqual(["overhead: far edge 1.36 m instead of 1.4 m", "overhead: far edge 1.38 m instead of 1.4 m"]);
});

describe("an edge of a band is moved", () => {
  /** The edges tried of a band from 1 m to 2 m, a tenth and a twentieth of a metre each way. */
  const edges = (band: Partial<Band>): string[] => {
    const given: Band = { nearMetres: 1, farMetres: 2, slackMetres: 0, maximumMetres: null, ...band };
    const told: Site = { ...site, signals: site.signals.map((one) => (one.band === null ? one : { ...one, band: given })) };
    return changesOf(prepareRule(told, ruleOf(is("overhead", 1), turned("mira", 1, 15)))).flatMap(({ text }) => /overhead: (\w+ edge \S+) m/.exec(text)?.[1] ?? []);
  };
  const [near, far] = [["near edge 0.9", "near edge 0.95", "near edge 1.05", "near edge 1.1"], ["far edge 1.9", "far edge 1.95", "far edge 2.05", "far edge 2.1"]];

  it("both ways where nothing stands against it", () => {
    expect(edges({})).toEqual([...near, ...far]);
  });

  it("to the meter itself, but not behind it", () => {
    expect(edges({ nearMetres: 0.1, farMetres: 1.1 })).toContain("near edge 0");
    expect(edges({ nearMetres: 0.0625, farMetres: 1.0625 }).filter((text) => text.startsWith("near"))).toEqual(["near edge 0.0125", "near edge 0.113", "near edge 0.163"]);
  });

  it("to below the largest reading of the meter, not up to it", () => {
    expect(edges({ maximumMetres: 2.05 })).toEqual([...near, "far edge 1.9", "far edge 1.95"]);
    expect(edges({ maximumMetres: 2.06 })).toEqual([...near, "far edge 1.9", "far edge 1.95", "far edge 2.05"]);
  });

  it("up to the readings of an empty bay, on either side", () => {
    expect(edges({ empty: [{ nearMetres: 2.05, farMetres: 3 }] })).toEqual([...near, "far edge 1.9", "far edge 1.95", "far edge 2.05"]);
    expect(edges({ empty: [{ nearMetres: 0, farMetres: 0.95 }] })).toEqual(["near edge 0.95", "near edge 1.05", "near edge 1.1", ...far]);
  });
});

describe("a changed condition", () => {
  const held = is("phone-mira", 0, { heldMs: min(5) });
  const other = is("wall", 1);
  const when = allOf(held, anyOf(other, is("overhead", 1)));

  it("is the very same object where nothing changes", () => {
    expect(changedCondition(when, noDifference)).toBe(when);
    const changed = changedCondition(when, { ...noDifference, timings: new Map([[held as never, { held: min(1) }]]) });
    expect(changed).toEqual(allOf(is("phone-mira", 0, { heldMs: min(1) }), anyOf(other, is("overhead", 1))));
    expect(changed.op === "all" && when.op === "all" && changed.of[1] === when.of[1]).toBe(true);
  });

  it("takes two changes at once, also two edges of one band", () => {
    const changes = changesOf(prepareRule(site, ruleOf(when, turned("mira", 1, 15))));
    const find = (start: string) => changes.find(({ text }) => text.startsWith(start))!;
    const both = joined(find("overhead: near edge 0.96"), find("overhead: far edge 1.44"));
    expect(both.text).toBe("overhead: near edge 0.96 m instead of 1 m; overhead: far edge 1.44 m instead of 1.4 m");
    expect(both.difference.bands.get("overhead")).toMatchObject({ nearMetres: 0.96, farMetres: expect.closeTo(1.44) as number });
    const three = joined(joined(find("phone-mira: held"), find("rest")), find("at least 2"));
    expect(changedCondition(when, three.difference)).toEqual(allOf(is("phone-mira", 0, { heldMs: min(1.25) }), quorum(2, other, is("overhead", 1))));
    expect(three.difference.restMs).toBe(min(1));
  });
});
