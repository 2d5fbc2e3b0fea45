import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { siteJsonSchema } from "../../src/site/json-schema.js";

const text = `${JSON.stringify(siteJsonSchema(), null, 2)}\n`;

// To write the file anew after a change: npx vitest run tests/site/json-schema.test.ts --update
it("is the one in docs/site.schema.json", async () => {
  await expect(text).toMatchFileSnapshot("../../docs/site.schema.json");
});

it("tells the meaning of every key, and the guide has each of them", () => {
  const guide = readFileSync(new URL("../../docs/site-file.md", import.meta.url), "utf8");
  const keys = new Set<string>();
  const visit = (schema: unknown, path: string): void => {
    if (typeof schema !== "object" || schema === null) return;
    for (const [key, value] of Object.entries(schema)) {
      if (key === "properties") {
        for (const [name, of] of Object.entries(value as Record<string, object>)) {
          keys.add(name);
          if (!["latitude", "longitude", "count", "of", "files"].includes(name)) expect([path, name, "description" in of]).toEqual([path, name, true]);
        }
      }
      visit(value, `${path}/${key}`);
    }
  };
  visit(siteJsonSchema(), "");
  expect(keys.size).toBeGreaterThan(60);
  expect([...keys].filter((key) => !new RegExp(`\\b${key.replace("$", "")}\\b`).test(guide))).toEqual([]);
});
