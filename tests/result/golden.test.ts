import { join } from "node:path";
import { expect, it } from "vitest";
import { auditSite } from "../../src/pipeline.js";
import { loadSite } from "../../src/site/load.js";
import { folderWith, tinyLog, tinySite } from "../commands/tiny-site.js";
import { encoded } from "../../src/result/json-text.js";
import { findingsSchema } from "../../src/result/schema.js";

/*
 * Everything an audit finds in a small invented week, so that a change anywhere on the way shows as a diff of figures.
 * What depends on the day or the version is taken out, and figures keep twelve digits: their last ones are the machine's.
 * To accept a change: `npx vitest run tests/result/golden.test.ts -u`, and say in the commit why the figures moved.
 */
it("finds in a small week what it found before", async () => {
  const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog() });
  const findings = await auditSite(await loadSite(join(folder, "site.yaml")), { period: { form: "all" }, madeAt: 0, watch: { onSetAside: () => undefined } });
  const settled = (key: string, value: unknown): unknown => (key === "made" ? undefined : typeof value === "number" ? Number(value.toPrecision(12)) : value);
  const text = JSON.stringify(encoded(findingsSchema, findings), settled, 1);
  await expect(`${text}\n`).toMatchFileSnapshot("golden/otter-cottage.json");
});
