import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { auditFiles } from "../../src/commands/audit-files.js";
import { tinyLog, tinySite } from "../commands/tiny-site.js";
import { blocksOf, pageText } from "../docs/page-commands.js";

/*
 * The package as its users get it: packed, and installed from the registry into an empty folder. It packs the build that
 * `npm test` made before, because the other tests need that build while this one runs.
 */
const INSTALL_MS = 600_000;
/** Each test starts whole programs, on a machine that runs other tests beside them. */
const RUN_MS = 240_000;

interface Ran {
  readonly status: number;
  readonly said: string;
  readonly told: string;
}

let root: string;
let folder: string;
let packed: readonly string[];

/** Runs a program without what `npm test` adds to the environment: that speaks of this repository. */
function run(program: string, words: readonly string[], cwd = folder): Promise<Ran> {
  const env = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^(npm_(?!config_(registry|cache|userconfig)$)|INIT_CWD$|NODE_|VITEST)/i.test(name)));
  return new Promise((done) => {
    const child = execFile(program, words, { cwd, env, maxBuffer: 1 << 26 }, (_, said, told) => {
      done({ status: child.exitCode ?? -1, said, told });
    });
  });
}

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "keyworthy-install-"));
  folder = join(root, "program");
  await mkdir(folder);
  const pack = await run("npm", ["pack", "--ignore-scripts", "--json", "--pack-destination", root], resolve("."));
  expect(pack.status, pack.told).toBe(0);
  const [{ filename, files }] = JSON.parse(pack.said) as [{ filename: string; files: { path: string }[] }];
  packed = files.map(({ path }) => path);
  await writeFile(join(folder, "package.json"), JSON.stringify({ private: true, type: "module" }));
  const install = await run("npm", ["install", join(root, filename), "--prefer-offline", "--no-audit", "--no-fund"]);
  expect(install.status, install.told).toBe(0);
  await writeFile(join(folder, "site.yaml"), tinySite);
  await writeFile(join(folder, "log.csv"), tinyLog().replaceAll("2026-06-", "2026-10-"));
}, INSTALL_MS);
afterAll(() => rm(root, { recursive: true, force: true }));

it("is installed for every folder with -g, from the packed file", async () => {
  const everywhere = join(root, "everywhere");
  const [packedFile] = (await readdir(root)).filter((name) => name.endsWith(".tgz"));
  const install = await run("npm", ["install", "-g", "--prefix", everywhere, `./${packedFile ?? ""}`, "--prefer-offline", "--no-audit", "--no-fund"], root);
  expect(install.status, install.told).toBe(0);
  const elsewhere = join(root, "elsewhere");
  await mkdir(elsewhere);
  const help = await run(join(everywhere, "bin", "keyworthy"), ["--help"], elsewhere);
  expect([help.status, help.said.includes("draft")]).toEqual([0, true]);
}, INSTALL_MS);

it("holds the build of the present sources, nothing older", () => {
  const built = packed.filter((path) => path.endsWith(".js"));
  expect(built).toContain(".build/cli.js");
  const sourceOf = (path: string): string => path.replace(/^\.build\//, "src/").replace(/\.js$/, ".ts");
  expect(built.filter((path) => !existsSync(sourceOf(path)) && !existsSync(`${sourceOf(path)}x`))).toEqual([]);
});

describe("the command", { timeout: RUN_MS }, () => {
  it("is there for npx", async () => {
    const { version } = JSON.parse(await readFile("package.json", "utf8")) as { version: string };
    expect(await run("npx", ["--no-install", "keyworthy", "--version"])).toEqual({ status: 0, said: `${version}\n`, told: "" });
  });

  it("audits a site and writes its report", async () => {
    const { status, said, told } = await run("npx", ["--no-install", "keyworthy", "audit", "site.yaml", "--month", "2026-10", "--out", "result"]);
    expect([status, told]).toEqual([3, ""]);
    expect(said).toContain("not proven yet  unlock on arrival");
    expect((await readdir(join(folder, "result"))).toSorted()).toEqual([...auditFiles].toSorted());
    expect(await readFile(join(folder, "result", "report.html"), "utf8")).toMatch(/^<!doctype html>[^]*<svg[^]*<\/html>\s*$/i);
  });
});

describe("the library", { timeout: RUN_MS }, () => {
  it("runs the example of docs/library.md as it stands there", async () => {
    const [example] = blocksOf(pageText("docs/library.md")).filter(({ language }) => language === "js");
    await writeFile(join(folder, "example.js"), example!.text);
    const { status, said, told } = await run("node", ["example.js"]);
    expect([status, told]).toEqual([0, ""]);
    expect(said).toMatch(/^not proven yet: unlock on arrival\n {2}\S[^\n]*\n$/);
    const report = join(folder, "report.html");
    expect(await readFile(report, "utf8")).toContain("Otter Cottage");
    expect((await stat(report)).mode & 0o777).toBe(0o600);
  });

  it("and that example says what is wrong with its input", async () => {
    const site = join(folder, "site.yaml");
    await writeFile(site, tinySite.replace("Europe/London", "Europe/Lodnon"));
    try {
      const { status, said, told } = await run("node", ["example.js"]);
      expect([status, told]).toEqual([2, ""]);
      expect(said).toMatch(/time zone.* site\.yaml 2 /);
    } finally {
      await writeFile(site, tinySite);
    }
  });

  it("audits without the packages that draw", async () => {
    const drawing = ["vega", "vega-lite", "preact", "preact-render-to-string"];
    const modules = join(folder, "node_modules");
    await writeFile(
      join(folder, "core.js"),
      `import { audit } from "keyworthy";
       const { rules } = await audit("site.yaml");
       console.log(rules[0].verdict);
       console.log(await import("keyworthy/report").then(() => "draws", (error) => error.code));`,
    );
    const withAll = await run("node", ["core.js"]);
    for (const name of drawing) await rename(join(modules, name), join(modules, `.${name}`));
    const without = await run("node", ["core.js"]);
    for (const name of drawing) await rename(join(modules, `.${name}`), join(modules, name));
    expect([withAll.said, withAll.told]).toEqual(["not proven yet\ndraws\n", ""]);
    expect([without.said, without.told]).toEqual(["not proven yet\nERR_MODULE_NOT_FOUND\n", ""]);
  });

  it("has types that need nothing of Node", async () => {
    await writeFile(join(folder, "consumer.ts"), consumer);
    await writeFile(
      join(folder, "tsconfig.json"),
      JSON.stringify({ compilerOptions: { target: "ES2022", lib: ["ES2022"], module: "NodeNext", types: [], strict: true, exactOptionalPropertyTypes: true, skipLibCheck: false, noEmit: true }, files: ["consumer.ts"] }),
    );
    const { said } = await run("node", [resolve("node_modules/typescript/bin/tsc"), "-p", ".", "--pretty", "false", "--listFiles"]);
    const lines = said.trim().split("\n");
    // It was our types that were checked, and no types of Node came along by any way.
    expect(lines.filter((line) => line.endsWith("node_modules/keyworthy/.build/index.d.ts"))).toHaveLength(1);
    expect(lines.filter((line) => line.includes("@types/node"))).toEqual([]);
    // zod's own types speak of URL, which plain ES2022 does not have: programs need skipLibCheck for that alone.
    expect(lines.filter((line) => /error TS\d+/.test(line) && !/^node_modules\/zod\/[^:]*: error TS2304: Cannot find name 'URL'/.test(line))).toEqual([]);
  });
});

const consumer = `
import { audit, countsOf, fleetOf, InputError, loadRules, loadSite, type AskedPeriod, type AuditOptions, type Counts, type Findings, type Fleet, type RuleSpec, type SetAsideRow } from "keyworthy";
import { renderFleet, renderReport } from "keyworthy/report";

const rows: SetAsideRow[] = [];
const period: AskedPeriod = { form: "range", from: "2026-10-01", to: null };
const options: AuditOptions = { period: "2026-10", watch: { onSetAside: (row) => rows.push(row) } };

export async function texts(siteFile: string, earlier: readonly Counts[]): Promise<readonly string[]> {
  const tried: RuleSpec[] = await loadRules(await loadSite(siteFile), "more.yaml");
  try {
    const findings: Findings = await audit(siteFile, { ...options, period, tried, earlier, judgedBefore: earlier, madeAt: 0 });
    const fleet: Fleet = fleetOf([countsOf(findings)], { madeAt: 0, madeBy: "a test", leftOut: [] });
    const pages: string[] = [await renderReport(findings), await renderFleet(fleet)];
    return [...pages, ...findings.rules.map(({ verdict }) => verdict)];
  } catch (error) {
    return error instanceof InputError ? error.problems.map(({ mend }) => mend ?? "") : [];
  }
}

// @ts-expect-error A month is text.
void audit("site.yaml", { period: 202610 });
// @ts-expect-error A rule's verdict is one of three.
export const verdictOf = (findings: Findings): "maybe" | undefined => findings.rules[0]?.verdict;
`;
