import { z } from "zod";
import { fleetSchema } from "./fleet-schema.js";

/** The JSON Schema (draft 2020-12) of fleet.json, as published in docs/fleet.schema.json. */
export function fleetJsonSchema(): object {
  return { ...z.toJSONSchema(fleetSchema, { target: "draft-2020-12", reused: "ref" }), title: "Keyworthy fleet result" };
}
