import { expect, it } from "vitest";
import { countsJsonSchema, findingsJsonSchema } from "../../src/result/json-schema.js";
import { fleetJsonSchema } from "../../src/result/json-schema.js";

// To write the files anew after a change: npx vitest run tests/result/json-schema.test.ts --update
it.each([
  ["findings", findingsJsonSchema()],
  ["counts", countsJsonSchema()],
  ["fleet", fleetJsonSchema()],
])("is the one in docs/%s.schema.json", async (name, schema) => {
  await expect(`${JSON.stringify(schema, null, 1)}\n`).toMatchFileSnapshot(`../../docs/${name}.schema.json`);
});
