import { createHash } from "node:crypto";

/**
 * The Content-Security-Policy of the report: nothing may be loaded, framed or sent; the one inline style and the one
 * inline script are let in by their hashes, so that markup which slipped through a name could neither run nor restyle
 * the page.
 */
export function contentPolicy(style: string, script: string): string {
  return ["default-src 'none'", `style-src ${hashOf(style)}`, `script-src ${hashOf(script)}`, "base-uri 'none'", "form-action 'none'"].join("; ");
}

function hashOf(text: string): string {
  return `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;
}
