import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { draftSite, type SiteDraft } from "../../src/draft/draft-site.js";
import { parseSite } from "../../src/site/parse.js";
import { folderWith, listening } from "../commands/tiny-site.js";
import { homeKinds } from "../study/homes/kinds.js";
import { liveIn } from "../study/homes/life.js";
import { measureHome, nothingMeasured } from "../study/homes/measure.js";
import { exportHome, type Exported } from "../study/homes/sensors.js";
import { chanceNamed } from "../study/verdict/random.js";
import { samplesOf } from "./invented-exports.js";

/** Three weeks of two people in a home of door contacts and motion. */
function home(id = "two people"): Exported {
  const kind = homeKinds.find((one) => one.id === id)!;
  const chance = chanceNamed(`drafted ${id}`);
  return exportHome(kind, liveIn(kind, 20, chance), 0, chance);
}

const lockAnswers = new Map([["timezone", "UTC"], ["rules", "lock"], ["limit:lock", "once a year"]]);
function drafted(files: Readonly<Record<string, string>>, answers: ReadonlyMap<string, string> = lockAnswers): SiteDraft {
  return draftSite(samplesOf(files), { site: "home", file: "site.yaml" }, answers);
}
const kindsOf = ({ placings }: SiteDraft): string[] => placings.map(({ signal, subject, stirs }) => `${signal.id} ${stirs === true ? "stirs of" : "on"} ${subject}`);

describe("a home of door contacts and motion only", () => {
  it("is drafted with its motion as stirs of the household, and says first what that can and cannot tell", () => {
    const draft = drafted({ "log.csv": home().files.get("log.csv")! });
    expect(kindsOf(draft)).toEqual(["front on door-1", "kitchen stirs of household", "bath stirs of household", "hall stirs of household", "living stirs of household"]);
    expect(draft.note).toMatch(/^no person and no vehicle was found: movement and the doors alone tell whether somebody is at home\. Silence proves nothing/);
    expect(draft.yaml.split("\n")[1]).toBe(`# Note first: ${draft.note!}.`);
    expect(draft.yaml).toMatch(/ {2}hall:\n(?: {4}#.*\n)* {4}on: household\n {4}source: log\n {4}channel: hall\n {4}kind: stir\n {4}stirs: \[moved\]\n {4}still: \[quiet\]\n/);
    expect(draft.questions.find(({ id }) => id === "rules")!.choices.map(({ answer }) => answer)).toEqual(["lock", "none"]);
  });

  it("gives rules that pass check, and an audit that dates who comes and goes by the door", { timeout: 120_000 }, async () => {
    const truth = home();
    const folder = await folderWith({ "log.csv": truth.files.get("log.csv")! });
    const { yaml, problems } = drafted({ "log.csv": truth.files.get("log.csv")! });
    expect(problems).toEqual([]);
    expect(yaml).toContain("when: { all: [ { every: doors, is: closed }, { every: stirs, is: still, held: 10min }, { every: stirs, is: still, since: { signal: front, turned: closed, grace: 2min } } ] }");
    await writeFile(join(folder, "site.yaml"), yaml);
    const check = listening(folder);
    expect(await runProgram(["check", "site.yaml"], check), check.told()).toBe(0);
    const audit = listening(folder);
    expect(await runProgram(["audit", "site.yaml", "--out", "report"], audit), audit.told()).toBe(3);
    expect(audit.said()).toContain("not proven yet  lock when nobody stirs");
    expect(await readFile(join(folder, "report", "report.html"), "utf8")).toContain("household");
    const measured = nothingMeasured();
    await measureHome({ ...truth, files: new Map([...truth.files, ["site.yaml", yaml]]) }, measured);
    expect(measured.longTurns).toBeGreaterThan(20);
    expect(measured.longPlaced / measured.longTurns).toBeGreaterThan(0.9);
  });

  it("takes taps that have one word only, each for a minute", () => {
    const draft = drafted({ "log.csv": home("one person, taps and switches only").files.get("log.csv")!.replaceAll(",moved", ",used").replaceAll(/,(hall|kitchen|living|bath),/g, ",$1-tap,") });
    expect(kindsOf(draft).filter((one) => one.includes("stirs"))).toHaveLength(4);
    expect(draft.yaml).toMatch(/stirs: \[used\]\n {4}# no word for still was seen: each time counts for a minute/);
    expect(parseSite(draft.yaml, "site.yaml", "").signals.find(({ id }) => id === "hall-tap")).toMatchObject({ kind: "stir", lastsMs: 60_000 });
  });
});

const at = (minutes: number): string => new Date(Date.UTC(2026, 5, 1) + minutes * 60_000).toISOString();
/** A sensor that says `on` for two minutes every half an hour, `off` else. */
const motion = (on: string, off: string, late = 0): string => `at,value\n${Array.from({ length: 200 }, (_, i) => `${at(30 * i + late)},${on}\n${at(30 * i + late + 2)},${off}\n`).join("")}`;
const door = `at,state\n${Array.from({ length: 60 }, (_, i) => `${at(200 * i + 7)},open\n${at(200 * i + 8)},closed\n`).join("")}`;

describe("sensors of movement", () => {
  it.each([["ON", "OFF"], ["1", "0"], ["true", "false"], ["motion", "no motion"], ["Bewegung", "keine Bewegung"], ["detected", "clear"]])("that say %s and %s are read so", (on, off) => {
    const { yaml } = drafted({ "hall motion.csv": motion(on, off), "front door.csv": door });
    expect(parseSite(yaml, "site.yaml", "").signals.find(({ kind }) => kind === "stir")!.reading).toEqual({ form: "words", on: [on], off: [off] });
  });

  it("that are on most of the time, or say words of their own, are asked about", () => {
    const reversed = drafted({ "hall motion.csv": motion("OFF", "ON"), "front door.csv": door });
    expect(reversed.questions.find(({ id }) => id === "on:hall-motion")).toMatchObject({ text: expect.stringMatching(/which of "ON" and "OFF" means stirring\? It said "ON" \d+ times, for 93 % of the time/) as string, weight: "blocks" });
    const answered = drafted({ "hall motion.csv": motion("OFF", "ON"), "front door.csv": door }, new Map([...lockAnswers, ["on:hall-motion", "OFF"]]));
    expect(answered.yaml).toContain(`    stirs: ["OFF"]\n    still: ["ON"]\n`);
    expect(drafted({ "hall motion.csv": motion("blip", "blop"), "front door.csv": door }).yaml).toContain("stirs: FILL-IN");
  });

  it("outside, where anybody may pass, are left out with the reason", () => {
    const { placings, leftOut } = drafted({ "hall motion.csv": motion("ON", "OFF"), "driveway motion.csv": motion("ON", "OFF", 9), "front door.csv": door });
    expect(placings.map(({ signal }) => signal.id)).not.toContain("driveway-motion");
    expect(leftOut.map(({ signal, why }) => `${signal.id}: ${why}`)).toEqual(["driveway-motion: it notices movement outside, where anybody may pass"]);
  });

  it("are left out beside a phone, as nothing tells whose movement it is; whoever wants them says so, and the rules then name the phones", () => {
    const phone = `at,state\n${Array.from({ length: 40 }, (_, i) => `${at(500 * i + 5)},home\n${at(500 * i + 300)},away\n`).join("")}`;
    const files = { "hall motion.csv": motion("ON", "OFF"), "mira phone.csv": phone, "front door.csv": door };
    const left = drafted(files);
    expect(left.leftOut.map(({ why }) => why)).toEqual(["it is a sensor that notices only movement, and whose it does not tell"]);
    expect(left.note).toBeNull();
    const wanted = drafted(files, new Map([...lockAnswers, ["rules", "unlock lock"], ["leave-out", "each"], ["watches:hall-motion", "stirs"]]));
    expect(kindsOf(wanted)).toContain("hall-motion stirs of household");
    expect(wanted.yaml).toMatch(/\{ any: \[ \{ signal: [\w-]+, turned: here, within: 10min \} \] \}/);
    expect(wanted.problems).toEqual([]);
  });
});

describe("a device without a telling name", () => {
  const days = 10;
  /** A device of that name that goes on at these minutes of each day, for so many. */
  const device = (name: string, minutesOfDay: readonly number[], forMinutes: number): string =>
    `at,${name}\n${Array.from({ length: days }, (_, day) => minutesOfDay.flatMap((minute) => [`${at(1440 * day + minute)},ON`, `${at(1440 * day + minute + forMinutes)},OFF`])).flat().join("\n")}\n`;
  const every = (step: number, from: number, to: number): number[] => Array.from({ length: Math.floor((to - from) / step) }, (_, i) => from + i * step);
  const files = (name: string, minutes: readonly number[], forMinutes: number) => ({ "front door.csv": door, [`${name}.csv`]: device(name, minutes, forMinutes) });

  it("that goes on as movement does is taken for stirs, and asked about", () => {
    const draft = drafted(files("m003", every(45, 420, 1380), 0.25));
    expect(kindsOf(draft)).toEqual(["front-door on door", "m003 stirs of household"]);
    expect(draft.questions.find(({ id }) => id === "watches:m003")).toMatchObject({
      text: "signal m003: does it notice only that somebody stirs in the house? It goes on 22 times a day, mostly for 15 s, and seldom in some hours of the day, as what notices movement does",
      weight: "stands in",
    });
  });

  it.each([
    ["goes on at night as by day, as a fridge does", every(45, 0, 1440), 0.25],
    ["stays on for long, as a lamp does", every(45, 420, 1380), 12],
    ["goes on a few times a day, as a kettle does", [425, 600, 960], 3],
  ])("that %s is left out", (_, minutes, forMinutes) => {
    expect(kindsOf(drafted(files("x7", minutes, forMinutes)))).toEqual(["front-door on door"]);
  });

  it("is not asked about where phones tell of people", () => {
    const phone = `at,state\n${Array.from({ length: days }, (_, day) => `${at(1440 * day + 480)},away\n${at(1440 * day + 1000)},home\n`).join("")}`;
    expect(kindsOf(drafted({ ...files("m003", every(45, 420, 1380), 0.25), "ann phone.csv": phone }))).not.toContainEqual(expect.stringContaining("stirs"));
  });
});

describe("the door that people leave by", () => {
  /** Somebody goes about all day; the hatch moves often while they do, the other door once a day, before two hours of silence. */
  const minutes = Array.from({ length: 10 }, (_, day) => Array.from({ length: 100 }, (__, i) => 1440 * day + 480 + 8 * i).filter((at) => at % 1440 < 960 || at % 1440 >= 1080)).flat();
  const hall = `at,value\n${minutes.flatMap((minute) => [`${at(minute)},ON`, `${at(minute + 0.5)},OFF`]).join("\n")}\n`;
  const moves = (starts: readonly number[]): string => `at,state\n${starts.flatMap((minute) => [`${at(minute)},open`, `${at(minute + 0.5)},closed`]).join("\n")}\n`;
  const days = Array.from({ length: 10 }, (_, day) => 1440 * day);
  const often = days.flatMap((day) => [500, 600, 700, 800, 900].map((minute) => day + minute + 1));
  const once = days.flatMap((day) => [day + 953, day + 1080]);

  it("is the one after which it is silent for long, not the one that moves most", () => {
    const { yaml } = drafted({ "hall motion.csv": hall, "a.csv": moves(often), "b.csv": moves(once) });
    expect(yaml).toContain("since: { signal: b, turned: closed");
  });

  it("is the one that is called so, whatever else", () => {
    const { yaml } = drafted({ "hall motion.csv": hall, "front.csv": moves(often), "b.csv": moves(once) });
    expect(yaml).toContain("since: { signal: front, turned: closed");
  });
});
