import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { parse } from "yaml";
import { auditFiles } from "../../src/commands/audit-files.js";
import { fleetSchema, type Fleet } from "../../src/result/fleet.js";
import { localClock } from "../../src/report/local-time.js";
import { tinyLog, tinySite } from "../commands/tiny-site.js";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";
import { commandsOf, pageText } from "./page-commands.js";
import { isoText } from "../../src/result/values.js";

/* Two tiny sites stand for `sites/`; a week of readings in each month that the page speaks of. */
const page = pageText("docs/fleet.md");
const week = (month: string): string => tinyLog().replaceAll("2026-06-", `${month}-`);
const weeks = (...months: readonly string[]): string => months.map((month, i) => (i === 0 ? week(month) : week(month).replace(/^.*\n/, ""))).join("");
const site = (name: string): string => tinySite.replace("Otter Cottage", name);
const names = ["brook", "ferry"];
const sites = Object.fromEntries(names.flatMap((name) => [
  [`sites/${name}/site.yaml`, site(name)],
  // One of the ferry's meters overlooks every visit.
  [`sites/${name}/log.csv`, name === "ferry" ? weeks("2026-10", "2026-11").replaceAll("Z,wall,20", "Z,wall,118") : weeks("2026-10", "2026-11")],
]));
const audit = "keyworthy audit sites/*/site.yaml --month 2026-10 --out october";
const combine = "keyworthy combine october november other-machine/results --out both";
const combineAgain = "keyworthy combine october --out october/_fleet";
const thin = "keyworthy thin reports --before 2026-06";
const fleetFiles = ["bays.csv", "fleet.html", "fleet.json", "signals.csv", "work-orders.csv"];
const fleetListing = ["bays.csv", "fleet.html", "fleet.json", "signals.csv", "sites", "work-orders.csv"];

const fleetOf = async (place: Place, folder: string): Promise<Fleet> => fleetSchema.parse(JSON.parse(await readFile(join(place.folder, folder, "fleet.json"), "utf8")));
/** A fleet result, file by file, but for the time of making: that differs between runs, and nothing else may. */
async function timeless(place: Place, folder: string): Promise<Map<string, string>> {
  const { made } = await fleetOf(place, folder);
  const texts = await Promise.all(fleetFiles.map((name) => readFile(join(place.folder, folder, name), "utf8")));
  return new Map(fleetFiles.map((name, i) => [name, texts[i]!.replaceAll(isoText(made.at), "").replaceAll(localClock("UTC").moment(made.at), "")]));
}
/** Files that are not the same, by name: their texts are too long to be shown. */
const differing = (a: ReadonlyMap<string, string>, b: ReadonlyMap<string, string>): string[] => fleetFiles.filter((name) => a.get(name) !== b.get(name));

let whole: Place;
let ran: Map<string, Ran>;
let unspread: Map<string, string>;

beforeAll(async () => {
  whole = await makePlace("keyworthy");
  await whole.write(sites);
  await whole.write({ "away/site.yaml": site("away"), "away/log.csv": weeks("2026-05", "2026-06", "2026-10") });
  const prepared = await whole.run("set +e; for words in 'sites/*/site.yaml --month 2026-11 --out november' 'away/site.yaml --month 2026-10 --out other-machine/results/away' 'away/site.yaml --month 2026-05' 'away/site.yaml --month 2026-06'; do keyworthy audit $words --quiet; [ $? = 3 ] || exit 1; done");
  expect(prepared).toEqual({ status: 0, said: "", told: "" });
  ran = await runPage("docs/fleet.md", whole, {
    // Kept before `combine` makes it anew in the same place.
    [combineAgain]: async () => {
      unspread = await timeless(whole, "october/_fleet");
    },
  });
});
afterAll(() => whole.remove());

it("gives commands that do what it says", () => {
  expect(outcomes(ran)).toEqual([`${audit}: 3`, `${combine}: 3`, `${combineAgain}: 3`, `${thin}: 0`]);
});

it("audits many sites into a folder each, and compares them beside", async () => {
  expect(await whole.list("october")).toEqual(["_fleet", ...names]);
  for (const name of names) expect(await whole.list(`october/${name}`)).toEqual([...auditFiles].toSorted());
  expect(await whole.list("october/_fleet")).toEqual([".written.json", ...fleetListing]);
  expect((await fleetOf(whole, "october/_fleet")).parts).toHaveLength(names.length);
});

it("combines months and machines, down to three levels", async () => {
  expect(await whole.list("both")).toEqual([".written.json", ...fleetListing]);
  const { parts } = await fleetOf(whole, "both");
  expect(parts.map(({ site: name, period: { label } }) => `${name} ${label}`).toSorted()).toEqual(["away 2026-10", "brook 2026-10", "brook 2026-11", "ferry 2026-10", "ferry 2026-11"]);
});

it("makes of finished audits what the one run made, but for the time of making", async () => {
  expect(unspread.get("fleet.json")).toContain("ferry");
  expect(differing(await timeless(whole, "october/_fleet"), unspread)).toEqual([]);
});

it("thins what ended before June to its counts, and leaves June alone", async () => {
  expect(await whole.list("reports/away/2026-05")).toEqual([".written.json", "counts.json"]);
  expect(await whole.list("reports/away/2026-06")).toEqual([...auditFiles].toSorted());
});

describe("the script for Slurm", () => {
  const script = commandsOf(page).find(({ form }) => form === "script")!.text;
  const [, first = "", last = ""] = /^#SBATCH --array=(\d+)-(\d+)$/m.exec(script) ?? [];
  const again = Number(/`sbatch --array=(\d+) job\.sh`/.exec(page)?.[1]);
  let place: Place;
  beforeAll(async () => {
    place = await makePlace("keyworthy");
    await place.write({ ...sites, "job.sh": script });
  });
  afterAll(() => place.remove());

  it("audits every site in one task or another, and every task ends well", { timeout: 120_000 }, async () => {
    expect([first, last]).toEqual(["1", "16"]);
    // The first two have a site each; the one named to be run again and the last have none, and end well too.
    for (const task of [1, 2, again, 16]) expect(await place.run("bash job.sh", { SLURM_ARRAY_TASK_ID: String(task) }), `task ${task}`).toEqual({ status: 0, said: "", told: "" });
    expect(await place.list("october")).toEqual(names);
  });

  it("is of as many tasks as it has shares, and the task named to be run again is one of them", () => {
    expect(script).toContain(`--part "$SLURM_ARRAY_TASK_ID/${last}"`);
    expect(again >= Number(first) && again <= Number(last)).toBe(true);
  });

  it("leads with combine to the result of the one run", async () => {
    expect((await place.run(combineAgain)).status).toBe(3);
    expect(differing(await timeless(place, "october/_fleet"), unspread)).toEqual([]);
  });

  it("tells the batch engine of a task that failed", async () => {
    await place.write({ "sites/brook/log.csv": "at,what,says\n" });
    const { status, told } = await place.run("bash job.sh", { SLURM_ARRAY_TASK_ID: "1" });
    expect(status).not.toBe(0);
    expect(told).toContain("brook");
  });
});

describe("the job for Kubernetes", () => {
  const job = parse(commandsOf(page).find(({ form }) => form === "manifest")!.text) as IndexedJob;
  const pod = job.spec.template.spec;

  it("has what an indexed job needs", () => {
    expect(job).toMatchObject({ apiVersion: "batch/v1", kind: "Job", spec: { completionMode: "Indexed", completions: 16, parallelism: 16, backoffLimitPerIndex: 2 } });
    // A limit of tries an index is allowed only where the pod itself does not start its containers again.
    expect(pod.restartPolicy).toBe("Never");
    // A name as DNS has it, short enough for the index that is put behind it.
    expect(job.metadata.name).toMatch(/^[a-z0-9]([-a-z0-9]{0,55}[a-z0-9])?$/);
    expect(pod.containers).toHaveLength(1);
    expect(pod.containers[0]?.volumeMounts.map(({ name }) => name)).toEqual(pod.volumes.map(({ name }) => name));
    expect(pod.containers[0]?.volumeMounts[0]?.mountPath).toBe("/data");
  });

  it("audits every site at one index or another, and every index ends well", { timeout: 120_000 }, async () => {
    const place = await makePlace("data");
    await place.write(sites);
    const words = pod.containers[0]!.command;
    expect(words.slice(0, 2)).toEqual(["sh", "-c"]);
    expect(words[2]).toContain(`/${job.spec.completions}"`);
    await place.write({ "container.sh": words[2]!.replaceAll("/data/", `${place.folder}/`) });
    // The first indices have the sites; the last one shows that the count fits.
    for (const index of [0, 1, 15]) expect(await place.run(`sh -c "$(cat container.sh)"`, { JOB_COMPLETION_INDEX: String(index) }), `index ${index}`).toEqual({ status: 0, said: "", told: "" });
    expect(await place.list("october")).toEqual(names);
    await place.remove();
  });
});

/** The parts of the manifest that are looked at here. */
interface IndexedJob {
  readonly metadata: { readonly name: string };
  readonly spec: {
    readonly completions: number;
    readonly template: {
      readonly spec: {
        readonly restartPolicy: string;
        readonly containers: readonly { readonly command: readonly string[]; readonly volumeMounts: readonly { readonly name: string; readonly mountPath: string }[] }[];
        readonly volumes: readonly { readonly name: string }[];
      };
    };
  };
}

describe("a run every month", () => {
  const service = /```ini\n\[Service\]\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
  const cron = /```text\n(0 4 2 \* \* .*)\n```/.exec(page)?.[1] ?? "";
  let place: Place;
  beforeAll(async () => {
    const last = new Date();
    last.setDate(0);
    const month = `${last.getFullYear()}-${String(last.getMonth() + 1).padStart(2, "0")}`;
    place = await makePlace("keyworthy");
    await place.write(Object.fromEntries(names.flatMap((name) => [[`sites/${name}/site.yaml`, site(name)], [`sites/${name}/log.csv`, week(month)]])));
  });
  afterAll(() => place.remove());

  it("is written for systemd so that status 3 is no failure, and its command does what it says", async () => {
    expect(service).toContain("SuccessExitStatus=3\n");
    const command = /^ExecStart=\/bin\/sh -c '(.*)'$/m.exec(service)?.[1] ?? "";
    expect((await place.run(command)).status).toBe(3);
    expect(await place.list("reports")).toEqual(["_fleet", ...names]);
  });

  it("is written for cron with the same command, and ends well", async () => {
    const command = cron.replace(/^0 4 2 \* \* cd \S+ && /, "");
    expect((await place.run(command)).status).toBe(0);
  });
});
