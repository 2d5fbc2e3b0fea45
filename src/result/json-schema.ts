import { z } from "zod";
import { countsSchema } from "./counts-schema.js";
import { findingsSchema } from "./schema.js";

/** The JSON Schema (draft 2020-12) of findings.json, as published in docs/findings.schema.json. */
export function findingsJsonSchema(): object {
  return { ...z.toJSONSchema(findingsSchema, { target: "draft-2020-12", reused: "ref" }), title: "Keyworthy findings" };
}

/** The JSON Schema (draft 2020-12) of counts.json, as published in docs/counts.schema.json. */
export function countsJsonSchema(): object {
  return { ...z.toJSONSchema(countsSchema, { target: "draft-2020-12", reused: "ref", io: "input" }), title: "Keyworthy counts" };
}
