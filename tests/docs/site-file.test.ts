import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";

const guide = readFileSync(new URL("../../docs/site-file.md", import.meta.url), "utf8");
const [example = "", stated = ""] = [...guide.matchAll(/```yaml\n([^]*?)```/g)].map(([, text]) => text);

describe("the guide to the site file", () => {
  it("shows statements that a rule can make", () => {
    const before = example.indexOf("    stated:");
    const after = example.indexOf("  - name: lock when");
    const site = parseSite(example.slice(0, before) + stated + example.slice(after), "site.yaml", "/somewhere");
    expect(site.rules[0]?.stated).toMatchObject({ commonCause: { atMostShare: 0.02 }, noSharedHours: { because: expect.any(String) as string }, oneParts: [["yard-door-rail", "phone-tom"]] });
  });
});
