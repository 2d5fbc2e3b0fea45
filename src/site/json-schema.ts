import { z } from "zod";
import { siteShape } from "./shape.js";

/** The JSON Schema (draft 2020-12) of a site file, as published in docs/site.schema.json: for editors, with every key's meaning. */
export function siteJsonSchema(): object {
  return { title: "Keyworthy site file", ...z.toJSONSchema(siteShape, { io: "input", target: "draft-2020-12" }) };
}
