import { expect } from "vitest";
import { draftSite, type SiteDraft } from "../../src/draft/draft-site.js";
import { InputError } from "../../src/ground/problem.js";
import { parseSite } from "../../src/site/parse.js";

/** Drafts as `draftSite` does; null where it says with an `InputError` that nothing can be drafted. Anything else that it throws is passed on. */
export function draftedOrRefused(samples: () => Parameters<typeof draftSite>[0], names: Parameters<typeof draftSite>[1]): SiteDraft | null {
  try {
    return draftSite(samples(), names);
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

/** A draft loads, or marks every place that keeps it from loading as one to fill in. */
export function expectLoadsOrAsks({ yaml, open }: SiteDraft): void {
  try {
    parseSite(yaml, "site.yaml", "");
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const lines = yaml.split("\n");
    expect(open.length).toBeGreaterThan(0);
    for (const { line, what } of error.problems) expect(lines.slice(0, line ?? 0).slice(-12).join("\n"), what).toContain("FILL");
  }
}
