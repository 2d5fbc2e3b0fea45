import { describe, expect, it } from "vitest";
import { contradiction } from "../../src/site/contradiction.js";
import { expressionRefs } from "../../src/site/expression-refs.js";
import { parseSite } from "../../src/site/parse.js";
import { ruleText } from "../../src/site/rule-text.js";
import { messagesFor, smallSite } from "./small-site.js";

const stir = "  hall: { on: mira, source: log, channel: m1, kind: stir, stirs: moved, still: quiet }\n";
const withStir = (more = "", signal = stir): string => smallSite.replace("  place-tom: {", `${signal}  place-tom: {`).replace("limits:\n", `${more}limits:\n`);
const lock = (when: string): string => `  - name: lock\n    act: lock\n    when: ${when}\n`;

describe("a stir signal in a site file", () => {
  it("is on a person, with words for stirring and, where it has them, for still", () => {
    expect(parseSite(withStir(), "s", "/").signals.find(({ id }) => id === "hall")).toMatchObject({ kind: "stir", reading: { on: ["moved"], off: ["quiet"] } });
    expect(messagesFor(withStir("", "  hall: { on: bay-1, source: log, channel: m1, kind: stir, stirs: moved }\n"))[0]).toContain("A stir signal cannot watch the bay \"bay-1\". Expected a stir to be on a person");
    expect(messagesFor(withStir("", "  hall: { on: mira, source: log, channel: m1, kind: stir }\n"))[0]).toContain("\"stirs\" is missing in signals › hall");
    expect(messagesFor(withStir("", "  hall: { on: mira, source: log, channel: m1, kind: stir, stirs: x, still: x }\n"))[0]).toContain("means both stirs and still");
    expect(messagesFor(withStir("", "  hall: { on: mira, source: log, channel: m1, kind: stir, stirs: x, away: y }\n"))[0]).toContain("A stir signal has no \"away\"");
  });

  it("without a word for still counts for a minute, or for as long as the file says", () => {
    const lasts = (more: string): number | undefined =>
      parseSite(withStir("", `  hall: { on: mira, source: log, channel: m1, kind: stir, stirs: moved${more} }\n`), "s", "/").signals.find(({ id }) => id === "hall")?.lastsMs;
    expect([lasts(""), lasts(", lasts: 5min"), lasts(", still: quiet"), lasts(", still: quiet, lasts: 2min")]).toEqual([60_000, 300_000, undefined, 120_000]);
  });

  it("is stirring or still in a rule, and no part of what a class says", () => {
    expect(messagesFor(withStir(lock("{ signal: hall, is: away }")))[0]).toContain("\"away\" is not a state of \"hall\". Expected stirring or still");
    const { when } = parseSite(withStir(lock("{ every: people, is: away }")), "s", "/").rules[1]!;
    expect(expressionRefs(when)).toEqual(["phone-mira", "place-tom"]);
    expect(expressionRefs(parseSite(withStir(lock("{ every: stirs, is: still, held: 10min }")), "s", "/").rules[1]!.when)).toEqual(["hall"]);
  });

  it("leaves nobody out in silence: a person with nothing but stirs cannot be said to be away", () => {
    const only = withStir(lock("{ every: people, is: away }")).replace("  phone-mira: { on: mira, source: phones, kind: phone, here: in, away: out }\n", "");
    expect(messagesFor(only).join()).toContain("\"every: people\" cannot speak of \"mira\": nothing on it can tell that nobody is there");
  });

  it("is named by `every: stirs` only where there is one, and only in `when`", () => {
    expect(messagesFor(smallSite.replace("limits:\n", `${lock("{ every: stirs, is: still }")}limits:\n`))[0]).toContain("names nothing: the site has no signal of kind stir");
    expect(messagesFor(withStir(`${lock("{ every: stirs, is: still }")}    right_when: { every: stirs, is: still }\n`))[0]).toContain("\"every: stirs\" does not belong in right_when");
  });
});

describe("a condition since a change", () => {
  const since = "{ signal: hall, is: still, since: { signal: rail, turned: closed, grace: 1min } }";

  it("names both signals, and is the same when it is written out and read again", () => {
    const site = parseSite(withStir(lock(since)), "s", "/");
    const rule = site.rules[1]!;
    expect(expressionRefs(rule.when)).toEqual(["hall", "rail"]);
    expect(rule.when).toMatchObject({ op: "is", ref: "hall", state: 0, since: { ref: "rail", to: 0, graceMs: 60_000 } });
    const again = parseSite(withStir(ruleText(rule, site)), "s", "/").rules[1]!;
    expect(again.when).toEqual(rule.when);
  });

  it("can never be so while the signal is in the other state, but may be whatever the change", () => {
    const [hall] = [{ op: "is", ref: "hall", state: 0, heldMs: null, recentlyMs: null, since: { ref: "rail", to: 0, graceMs: 0 } }] as const;
    const stirring = { op: "is", ref: "hall", state: 1, heldMs: null, recentlyMs: null } as const;
    expect(contradiction({ op: "all", of: [hall, stirring] })).not.toBeNull();
    expect(contradiction({ op: "all", of: [{ op: "not", of: hall }, { ...stirring, state: 0 }] })).toBeNull();
  });

  it("says what is wrong with it", () => {
    const said = (when: string): string => messagesFor(withStir(lock(when))).join();
    expect(said("{ signal: hall, is: still, held: 5min, since: { signal: rail, turned: closed } }")).toContain("has both \"held\" and \"since\"");
    expect(said("{ signal: hall, is: still, since: { signal: rail, turned: away } }")).toContain("\"away\" is not a state of \"rail\". Expected open or closed");
    expect(said("{ signal: hall, is: still, since: { signal: raul, turned: closed } }")).toContain("\"raul\" is not a signal of this site");
    expect(said("{ signal: hall, turned: still, within: 5min, since: { signal: rail, turned: closed } }")).toContain("\"since\" does not go with \"turned\"");
    expect(messagesFor(withStir(`${lock(since)}    right_when: { subject: mira, is: away, since: { signal: rail, turned: closed } }\n`)).join()).toContain("\"since\" does not belong in right_when");
  });
});
