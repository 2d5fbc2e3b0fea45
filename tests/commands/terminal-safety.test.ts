import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { sensorLanes } from "../../src/commands/confirm/sensor-lanes.js";
import { runProgram } from "../../src/commands/program.js";
import { decoded } from "../../src/result/json-text.js";
import { findingsSchema } from "../../src/result/findings.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

/**
 * What would steer a terminal: clears the screen, sets its title, rings, goes back to the beginning of the line and by one sign, the one-byte forms of the
 * first two (C1), delete, and turns the direction of writing round in each way.
 */
const HOSTILE = "\u001b[2J\u001b]0;x\u0007\r\b\u009b2J\u009d0;x\u009c\u007f\u202e\u202a\u2066\u2069\u061c\u200e\u200f\u2028\u2029";
const steers = /.{0,40}[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/;
/** As JSON and YAML write it between double quotes. */
const escaped = Array.from(HOSTILE).map((sign) => (/[\u0020-\u007e]/.test(sign) ? sign : `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`)).join("");
/** What a file system allows of it. */
const folderName = `below${HOSTILE}`;

const log = `${tinyLog()}2026-06-07T20:00:00Z,ghost${HOSTILE},1\n2026-06-07T20:01:00Z,rail,ajar${HOSTILE}\n2026-06-07T${HOSTILE},rail,open\n"${HOSTILE}\n`;
const track = `<gpx><trk><name>walk${HOSTILE.replace(/[\u0000-\u001f]/g, "")}</name><trkpt lat="51.5" lon="-0.1"><time>2026-06-07T20:00:00Z</time></trkpt></trk><${HOSTILE}></gpx>`;
const scenario = `scenario: "Small${escaped}"\nseed: 3\ntimezone: Europe/London\nperiod: { from: 2026-10-20, to: 2026-10-22 }\ndoors: { shed: {} }\nroutine: [ { name: "garden${escaped}", through: shed, days: daily, opens: "10:00", for: 5min } ]\nsources:\n  log: { files: log.csv, time: { column: t, written: iso }, signal: id, value: v }\nsensors:\n  contact: { on: shed, source: log, channel: "c${escaped}", kind: contact, every: 30min, reads: { on: "1", off: "0" } }\n`;
const reversed = "\u202e";

/** The site file takes no such names, but says so; a pattern may match a file that has one, and a result may come from elsewhere. */
describe("names from files that would steer a terminal", () => {
  let folder: string;
  const write = async (name: string, content: string | Uint8Array): Promise<void> => {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content);
  };
  beforeAll(async () => {
    folder = await folderWith({ "site.yaml": tinySite.replace("files: log.csv", 'files: "log*.csv"'), [`log${HOSTILE}.csv`]: log, "plain.csv": log, "track.gpx": track, "scenario.yaml": scenario });
    expect(await runProgram(["audit", "site.yaml", "--out", "many/otter"], listening(folder))).toBe(3);
    for (const name of ["findings.json", "counts.json"]) {
      const text = await readFile(join(folder, "many/otter", name), "utf8");
      // Names of sites, signals, people, bays, rules, devices and files, and every text that is made of them; no keys, times and words that the schema knows.
      const names = text.replaceAll(/(?<!"(?:class|subjectClass)": )"(Otter Cottage|overhead|wall|rail|phone|ida|bay|unlock on arrival|log\.csv|ghost)"(?!:)/g, `"$1${escaped}"`);
      await write(`many/otter/${name}`, names.replaceAll(/("(?:why|text|sentence|headline|note)": "[^"\n]+)"/g, `$1${escaped}"`));
    }
    await write(`${folderName}/b/counts.json`, "{");
    await write(`${folderName}/site.yaml`, tinySite);
    await write(`${folderName}/log.csv`, log);
    for (const [i, [from, to]] of ([["bays: { bay:", `bays: { "bay${escaped}":`], ["people: { ida:", `people: { "ida${escaped}":`], ["  overhead: {", `  "overhead${escaped}": {`], ["name: unlock on arrival", `name: "unlock${escaped}"`], ["Otter Cottage", `"Otter${escaped}"`], ["closed: [closed]", `closed: ["closed${escaped}"]`], ["kind: contact", `kind: contact, model: "m${escaped}"`], ["files: log.csv", `files: "no${escaped}.csv"`], ["timezone: Europe/London", `timezone: "${escaped}"`]] as const).entries()) {
      expect(tinySite).toContain(from);
      await write(`hostile-${i}.yaml`, tinySite.replace(from, to));
    }
    await write("fleet.yaml", `fleet: "North${escaped}"\nsites: ["Gone${escaped}", Otter Cottage]\n`);
    await write("rules.yaml", `rules:\n  - { name: "x${escaped}", act: unlock, when: { signal: "none${escaped}", is: open } }\n`);
    await write("diary.csv", `subject,state,from,to\n"bay${HOSTILE}",occupied${HOSTILE},a,b\n`);
    await write("diary.yaml", `${tinySite.replace("files: log.csv", "files: plain.csv")}diary: { files: diary.csv }\n`);
    await write(`packed${reversed}.csv.gz`, gzipSync(log).subarray(0, 20));
    await write("packed.yaml", tinySite.replace("files: log.csv", 'files: "packed*.gz"'));
    await write(`broken${reversed}.parquet`, "PAR1");
    await write("broken.yaml", tinySite.replace("files: log.csv", 'files: "broken*"'));
  });

  it.each<readonly [string, readonly string[], number]>([
    ["check", ["check", "site.yaml"], 0],
    ["check of a site file in such a folder", ["check", `${folderName}/site.yaml`], 0],
    ["check of a site file that is not there", ["check", `no${HOSTILE}.yaml`], 2],
    ...Array.from({ length: 9 }, (_, i): readonly [string, readonly string[], number] => [`check of hostile-${i}.yaml`, ["check", `hostile-${i}.yaml`], 2]),
    ["check of a diary", ["check", "diary.yaml"], 2],
    ["check of a packed file that is cut off", ["check", "packed.yaml"], 2],
    ["check of a broken Parquet file", ["check", "broken.yaml"], 2],
    ["audit", ["audit", "site.yaml"], 3],
    ["audit into such a folder", ["audit", "site.yaml", "--out", `out${HOSTILE}`, "--parquet", "--timings"], 3],
    ["audit of many", ["audit", "site.yaml", `${folderName}/site.yaml`, "--out", "round", "--fleet", "fleet.yaml"], 2],
    ["audit with further rules", ["audit", "site.yaml", "--try", "rules.yaml"], 2],
    ["audit with earlier results", ["audit", "site.yaml", "--earlier", "many", folderName, "--out", "again"], 3],
    ["propose", ["propose", "site.yaml"], 3],
    ["propose for a rule that is not there", ["propose", "site.yaml", "--rule", `x${HOSTILE}`], 2],
    ["confirm without a terminal", ["confirm", "site.yaml"], 2],
    ["draft of a text", ["draft", "plain.csv"], 0],
    ["draft into such a file", ["draft", "plain.csv", "--out", `drafted${HOSTILE}.yaml`], 0],
    ["draft of such a file", ["draft", `log${HOSTILE}.csv`, `broken${reversed}.parquet`, "plain.csv"], 0],
    ["draft of a track", ["draft", "track.gpx"], 0],
    ["combine", ["combine", "many", "--out", "all"], 3],
    ["combine with such a fleet file", ["combine", "many", "--out", "all", "--fleet", "fleet.yaml"], 2],
    ["combine into such a folder", ["combine", "many", "--out", `all${HOSTILE}`], 3],
    ["combine of a folder of such a name", ["combine", folderName, "--out", "all"], 2],
    ["combine without the broken ones", ["combine", "many", folderName, "--out", "all", "--leave-out-broken"], 3],
    ["explain", ["explain", "many/otter/findings.json", "--at", "2026-06-03T17:02"], 0],
    ["explain at no time", ["explain", "many/otter/findings.json", "--at", HOSTILE], 2],
    ["thin", ["thin", "many", "--before", "2026-08", "--show"], 2],
    ["thin of a folder of such a name", ["thin", folderName, "--before", "2026-08"], 2],
    ["thin before no month", ["thin", "many", "--before", HOSTILE], 2],
    ["simulate", ["simulate", "scenario.yaml", "--out", `new${HOSTILE}`], 0],
    ["an option that there is not", ["audit", `--${HOSTILE}`], 2],
    ["a command that there is not", [`audit${HOSTILE}`], 2],
    ["a choice that there is not", ["audit", "site.yaml", "--pages", HOSTILE], 2],
  ])("do not in what is said by %s, at a terminal or not", async (_, words, status) => {
    for (const tellsTerminal of [false, true]) {
      const heard = listening(folder);
      const around = { ...heard, tellsTerminal, colour: tellsTerminal, say: (text: string) => { heard.say(text); }, tell: (text: string) => { heard.tell(text.replace(/^\r\u001b\[K/, "")); } };
      const given = await runProgram(words, around);
      if (!tellsTerminal) expect(given, heard.told()).toBe(status);
      expect(heard.said() + heard.told()).not.toBe("");
      expect(steers.exec((heard.said() + heard.told()).replaceAll("\n", ""))?.[0] ?? null).toBe(null);
    }
  });

  it("do not in the sensors that `confirm` shows beside a question", async () => {
    const findings = decoded(findingsSchema, JSON.parse(await readFile(join(folder, "many/otter/findings.json"), "utf8"))).data!;
    const lanes = sensorLanes(findings, { from: Date.parse("2026-06-03T16:30:00Z"), to: Date.parse("2026-06-03T17:30:00Z") }, 100);
    expect(lanes).toContain("overhead·");
    expect(steers.exec(lanes.replaceAll("\n", ""))).toBe(null);
  });
});
