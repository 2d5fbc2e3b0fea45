import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";

/** A package as package-lock.json has it. */
interface Locked {
  readonly version?: string;
  readonly license?: string;
  readonly dev?: boolean;
}

const lock = JSON.parse(readFileSync("package-lock.json", "utf8")) as { readonly packages: Readonly<Record<string, Locked>> };
const own = JSON.parse(readFileSync("package.json", "utf8")) as { readonly dependencies: Readonly<Record<string, string>> };
const packages = Object.entries(lock.packages).flatMap(([path, locked]) => (path === "" ? [] : [{ ...locked, name: path.replace(/^.*node_modules\//, "") }]));

/** Whoever gets a copy may use, change and pass it on; all that is asked is that the licence stays with it. */
const permissive: ReadonlySet<string> = new Set(["MIT", "ISC", "BSD-2-Clause", "BSD-3-Clause", "Apache-2.0", "0BSD", "BlueOak-1.0.0", "Unlicense"]);

/** What has another licence, and why it may be here all the same. */
const exceptions: readonly { readonly name: RegExp; readonly license: string; readonly onlyDev: boolean; readonly why: string }[] = [
  { name: /^@stdlib\//, license: "Apache-2.0 AND BSL-1.0", onlyDev: false, why: "parts are ported from a library under the Boost licence, which is permissive too and asks for nothing of what is compiled" },
  { name: /^(?:lightningcss|lightningcss-.*|axe-core)$/, license: "MPL-2.0", onlyDev: true, why: "only the tests use it, unchanged, and it is in no package of ours" },
  { name: /^caniuse-lite$/, license: "CC-BY-4.0", onlyDev: true, why: "a table of browsers that the tools of the tests read; it is in no package of ours" },
];

describe("the licence of every package", () => {
  it("is permissive, or excepted with a reason", () => {
    const others = packages.filter(({ name, license = "none", dev }) => !permissive.has(license) && !exceptions.some((one) => one.name.test(name) && one.license === license && (dev === true || !one.onlyDev)));
    expect(packages.length).toBeGreaterThan(100);
    expect(others.map(({ name, license }) => `${name} is under ${license ?? "none"}`)).toEqual([]);
  });

  it("is none that is excepted for nothing", () => {
    for (const one of exceptions) expect(packages.filter(({ name, license }) => one.name.test(name) && one.license === license), one.license).not.toEqual([]);
  });

  it("is what the package itself says", () => {
    for (const { name, version } of packages.filter(({ dev }) => dev !== true)) {
      const said = JSON.parse(readFileSync(`node_modules/${name}/package.json`, "utf8")) as Locked;
      // Another version of it may stand further down.
      if (said.version === version) expect([name, said.license]).toEqual([name, packages.find((one) => one.name === name && one.version === version)?.license]);
    }
  });
});

describe("every package that is installed with ours", () => {
  const source = readdirSync("src", { recursive: true, encoding: "utf8" }).filter((path) => /\.tsx?$/.test(path)).map((path) => readFileSync(`src/${path}`, "utf8")).join("\n");
  // Arquero needs it: named, so that it stays at the version that arquero was tested with.
  const pinned = ["@uwdata/flechette"];
  it.each(Object.keys(own.dependencies).filter((name) => !pinned.includes(name)))("%s is used", (name) => {
    expect(source).toMatch(new RegExp(`(?:from |import\\()"${name.replaceAll("/", "\\/")}(?:\\/[^"]*)?"`));
  });
});

/** A package as the list of a release has it. */
interface Listed {
  readonly name: string;
  readonly group?: string;
  readonly properties?: readonly { readonly name: string; readonly value: string }[];
}

describe("the list of packages that goes with a release", () => {
  it("can be made here without a network, and names every package that a user installs", () => {
    const listed = JSON.parse(execFileSync("npm", ["run", "--silent", "sbom", "--", "--offline"], { encoding: "utf8", maxBuffer: 100_000_000 })) as { readonly components: readonly Listed[] };
    const installed = listed.components.filter(({ properties = [] }) => !properties.some(({ name, value }) => name === "cdx:npm:package:development" && value === "true"));
    const names = installed.map(({ name, group }) => (group === undefined || name.startsWith("@") ? name : `${group}/${name}`));
    for (const name of Object.keys(own.dependencies)) expect(names).toContain(name);
    expect(names).not.toContain("vitest");
  }, 60_000);
});
