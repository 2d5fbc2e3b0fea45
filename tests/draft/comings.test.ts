import { describe, expect, it } from "vitest";
import { draftSite } from "../../src/draft/draft-site.js";
import { iso, samplesOf } from "./invented-exports.js";

const START = Date.UTC(2026, 5, 1);
const MINUTE = 60_000;
const DAY = 1_440 * MINUTE;
const DAYS = 20;
const at = (day: number, minute: number): number => START + day * DAY + minute * MINUTE;
/** Out from eight to five, a few minutes earlier or later each day. */
const leaves = (day: number): number => at(day, 480 + ((day * 7) % 20));
const returns = (day: number): number => at(day, 1_020 + ((day * 11) % 25));
const days = Array.from({ length: DAYS }, (_, day) => day);
const isOut = (instant: number): boolean => days.some((day) => instant >= leaves(day) && instant < returns(day));

/** A meter every minute that loses its echo once in four hours; another that tells changes at once and reads every ten minutes besides. */
const side = ["when,mm", ...Array.from({ length: DAYS * 1_440 }, (_, i) => [iso(at(0, i)), i % 240 === 100 ? 4999 : (isOut(at(0, i)) ? 2_350 : 640) + (i % 5)].join(","))].join("\n");
const roofRows = [...Array.from({ length: DAYS * 144 }, (_, i) => at(0, 10 * i)), ...days.flatMap((day) => [leaves(day) + 4_000, returns(day) + 4_000])].sort((a, b) => a - b);
const roof = ["time,roof cm", ...roofRows.map((instant, i) => `${iso(instant)},${(isOut(instant - 3_000) ? 262 : 121) + (i % 3)}`)].join("\n");
const shutter = ["stamp,name,said", ...days.flatMap((day) => [leaves(day) - MINUTE, returns(day) - MINUTE].flatMap((from) => [`${iso(from)},shutter,open`, `${iso(from + 2 * MINUTE)},shutter,closed`]))].join("\n");
const device = (out: string, back: string): string => ["stamp,name,said", ...days.flatMap((day) => [`${iso(leaves(day) + 6 * MINUTE)},ada,${out}`, `${iso(returns(day) - 5 * MINUTE)},ada,${back}`])].join("\n");

const drafted = (files: Readonly<Record<string, string>>) => draftSite(samplesOf(files), { site: "s", file: "site.yaml" });
const watched = (files: Readonly<Record<string, string>>): Record<string, string> => Object.fromEntries(drafted(files).placings.map(({ signal, subject }) => [signal.id, subject]));

describe("what comes and goes together", () => {
  it("is one bay, though one of its meters loses its echo more often than a vehicle comes", () => {
    const found = watched({ "side.csv": side, "roof.csv": roof });
    expect(Object.keys(found)).toHaveLength(2);
    expect(new Set(Object.values(found)).size).toBe(1);
  });

  it("is a person, where something says words of its own near the vehicle and the door; which word is which is asked", () => {
    const { placings, leftOut, yaml } = drafted({ "side.csv": side, "shutter.csv": shutter, "ring.csv": device("zone b", "zone a") });
    expect(placings.find(({ signal }) => signal.id === "ada")).toMatchObject({ class: "person", direction: null });
    expect(leftOut).toEqual([]);
    expect(yaml).toContain("FILL-IN");
  });

  it("is not where its changes have nothing to do with either", () => {
    const kettle = ["stamp,name,said", ...days.flatMap((day) => [`${iso(at(day, 700 + day))},kettle-2,boiling`, `${iso(at(day, 704 + day))},kettle-2,resting`])].join("\n");
    expect(watched({ "side.csv": side, "shutter.csv": shutter, "k.csv": kettle })).not.toHaveProperty("kettle-2");
  });

  it("and the rule of a vehicle and a person is drafted for who comes with a vehicle", () => {
    const { yaml } = drafted({ "side.csv": side, "handset.csv": device("gone", "there") });
    expect(yaml).toContain("right_when: { all: [ { some: bays, turned: occupied, within: 15min }, { some: people, turned: here, within: 15min } ] }");
    expect(drafted({ "side.csv": side }).yaml).not.toContain("right_when");
  });
});
