import { describe, expect, it } from "vitest";
import { draftSite } from "../../src/draft/draft-site.js";
import { iso, sample } from "./invented-exports.js";

const MINUTE = 60_000;
const start = Date.UTC(2026, 5, 1);

/** Ten days of four contacts that report every half hour; `restarts`: extra readings at an instant, by channel. */
function contacts(restarts: readonly (readonly [instant: number, channel: string, late: number])[]): string {
  const rows: [number, string][] = [];
  for (let i = 0; i < 480; i++) ["a", "b", "c", "d"].forEach((channel, at) => rows.push([start + i * 30 * MINUTE + at * 95_000, `${channel},${i % 48 === 20 ? "open" : "closed"}`]));
  for (const [instant, channel, late] of restarts) rows.push([instant + late, `${channel},closed`]);
  return `at,channel,says\n${rows.sort((x, y) => x[0] - y[0]).map(([instant, rest]) => `${iso(instant)},${rest}`).join("\n")}\n`;
}

const causes = (text: string) => [...draftSite([sample("a.csv", text)], { site: "s", file: "f" }).yaml.matchAll(/# check: (cause-\d): (.*?) started again/g)].map(([, name, ids]) => `${name}: ${ids}`);

describe("likely shared causes", () => {
  const at = start + 5 * 24 * 60 * MINUTE + 12 * MINUTE;
  it("are signals that report out of their time, all at once and with nothing new to say", () => {
    expect(causes(contacts([[at, "a", 0], [at, "b", 4_000], [at, "d", 9_000]]))).toEqual(["cause-1: a, b, d"]);
  });
  it("are two signals only if that happens twice", () => {
    const again = at + 3 * 24 * 60 * MINUTE;
    expect(causes(contacts([[at, "a", 0], [at, "b", 4_000]]))).toEqual([]);
    expect(causes(contacts([[at, "a", 0], [at, "b", 4_000], [again, "a", 0], [again, "b", 4_000]]))).toEqual(["cause-1: a, b"]);
  });
  it("are not signals that report out of their time at different times", () => {
    expect(causes(contacts([[at, "a", 0], [at, "b", 60_000], [at, "d", 120_000]]))).toEqual([]);
  });
  it("are told with the instants that show them, also for two signals", () => {
    const again = at + 3 * 24 * 60 * MINUTE;
    expect(draftSite([sample("a.csv", contacts([[at, "a", 0], [at, "b", 4_000], [again, "a", 0], [again, "b", 4_000]]))], { site: "s", file: "f" }).yaml).toContain(
      "# check: cause-1: a, b started again or were lost within 20 s of one another 2 times (2026-06-06T00:12:00.000Z, 2026-06-09T00:12:00.000Z)",
    );
  });
  it("are two sensors of one thing that change in the same second at every turn", () => {
    // A week of a door with two openings a day, each leaf seen by its own contact, which is late by up to `late` seconds in its own way.
    const door = (late: number): string => {
      const rows = Array.from({ length: 28 }, (_, i): [number, string][] => {
        const at = start + (i >> 1) * 12 * 60 * MINUTE + (i % 2) * 10 * MINUTE + i * 7_000;
        const says = i % 2 === 0 ? "open" : "closed";
        return [[at, `left-leaf,${says}`], [at + ((i * 7) % (late + 1)) * 1_000, `right-leaf,${says}`]];
      }).flat();
      return `at,channel,says\n${rows.sort((x, y) => x[0] - y[0]).map(([instant, rest]) => `${iso(instant)},${rest}`).join("\n")}\n`;
    };
    const drafted = draftSite([sample("a.csv", door(0))], { site: "s", file: "f" }).yaml;
    expect(drafted).toContain("# check: cause-1: left-leaf and right-leaf changed in the same second at 27 of 27 turns: one sensor under two names, or two on one board. If they are truly independent, take it out and say so by `independent`");
    expect(drafted.match(/shares: \[cause-1\]/g)).toHaveLength(2);
    expect(draftSite([sample("a.csv", door(5))], { site: "s", file: "f" }).yaml).not.toContain("shares: [");
  });
  it("are not seen in stamps without seconds, which are a minute early or late for no reason", () => {
    const rows = Array.from({ length: 1000 }, (_, i) => `${iso(start + i * 5 * MINUTE + (i % 150 === 75 ? MINUTE : 0))},${i % 40 < 20 ? "open,in" : "closed,out"}`);
    expect(causes(`When,Yard,Mira\n${rows.join("\n")}\n`)).toEqual([]);
  });
  it("are signals lost at the same instant", () => {
    const rows = Array.from({ length: 100 }, (_, i) => `${iso(start + i * 15 * MINUTE)},${i === 50 ? "offline,offline" : i % 20 < 10 ? "in,out" : "out,in"}`);
    expect(causes(`When,Mira,Tom\n${rows.join("\n")}\n`)).toEqual(["cause-1: tag-mira, tag-tom"]);
  });
});
