import { z } from "zod";
import { siteShape } from "./shape.js";

/** The JSON Schema (draft 2020-12) of a site file, as published in docs/site.schema.json: for editors, with every key's meaning. */
export function siteJsonSchema(): object {
  const schema = z.toJSONSchema(siteShape, {
    io: "input",
    target: "draft-2020-12",
    // Single values say in their `meta` which YAML types an editor may accept; what zod derives from our text form is narrower.
    override: ({ jsonSchema }) => {
      if (Array.isArray(jsonSchema.type)) delete jsonSchema.anyOf;
    },
  });
  return { ...schema, title: "Keyworthy site file" };
}
