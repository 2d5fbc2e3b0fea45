import type { ProblemParts } from "../ground/problem.js";
import { closestName } from "../site/closest-name.js";
import { sharedCauses } from "../site/shared-causes.js";
import type { Site } from "../site/site.js";

/** What stands in a diary's subject column for a provoked test, unless a subject of the site is called so. */
export const TEST_SUBJECT = "test";

/**
 * A provoked test: on `[from, to)` somebody let a shared cause fail on purpose, such as by switching a board off and on.
 * It tells nothing about the state of any subject.
 */
export interface ProvokedTest {
  /** A name under `shares` of some signal. */
  readonly cause: string;
  readonly from: number;
  readonly to: number;
  readonly file: string;
  readonly line: number;
}

/** Whether a diary row with this subject notes a test. A site's own subject of that name comes first. */
export function isTest(site: Site, subject: string): boolean {
  return subject === TEST_SUBJECT && !site.subjects.some(({ id }) => id === TEST_SUBJECT);
}

/** What is wrong with the name of a test's cause; null where the site has it. */
export function causeProblem(site: Site, written: string, file: string, line: number): ProblemParts | null {
  const causes = sharedCauses(site).map(({ cause }) => cause);
  if (causes.includes(written)) return null;
  const meant = closestName(written, causes);
  return {
    code: "diary-row", what: `The site file has no shared cause "${written}" to test`, file, line,
    expected: causes.length === 0 ? "a name under `shares` of the site's signals, where none stands yet" : `one of ${causes.join(", ")}`, found: `"${written}"`,
    mend: meant === null ? "name it under `shares` of every signal that depends on it" : `did you mean "${meant}"?`,
  };
}

/** By `from`, then cause, then `to`. A test written down twice, with the same cause and times, counts once: it was made once. */
export function sortedTests(tests: readonly ProvokedTest[]): ProvokedTest[] {
  const byKey = new Map<string, ProvokedTest>();
  for (const test of tests) {
    const key = JSON.stringify([test.cause, test.from, test.to]);
    if (!byKey.has(key)) byKey.set(key, test);
  }
  return [...byKey.values()].sort((a, b) => a.from - b.from || (a.cause < b.cause ? -1 : a.cause > b.cause ? 1 : a.to - b.to));
}
