import { createHash } from "node:crypto";

/**
 * The Content-Security-Policy of the report: nothing may be loaded, run, framed or sent; the one inline style is
 * let in by its hash, so that markup which slipped through a name could neither run nor restyle the page.
 */
export function contentPolicy(style: string): string {
  const hash = createHash("sha256").update(style, "utf8").digest("base64");
  return ["default-src 'none'", `style-src 'sha256-${hash}'`, "base-uri 'none'", "form-action 'none'"].join("; ");
}
