import { z } from "zod";
import { countsSchema } from "./counts-schema.js";
import { fleetSchema } from "./fleet-schema.js";
import { findingsSchema } from "./schema.js";

/** The JSON Schema (draft 2020-12) of findings.json, as published in docs/findings.schema.json. */
export function findingsJsonSchema(): object {
  return published(findingsSchema, "Keyworthy findings");
}

/** The JSON Schema (draft 2020-12) of counts.json, as published in docs/counts.schema.json. */
export function countsJsonSchema(): object {
  return published(countsSchema, "Keyworthy counts");
}

/** The JSON Schema (draft 2020-12) of fleet.json, as published in docs/fleet.schema.json. */
export function fleetJsonSchema(): object {
  return published(fleetSchema, "Keyworthy fleet result");
}

function published(schema: z.ZodType, title: string): object {
  return { ...z.toJSONSchema(schema, { target: "draft-2020-12", reused: "ref", io: "input" }), title };
}
