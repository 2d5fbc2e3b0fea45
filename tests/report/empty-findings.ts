import type { Findings } from "../../src/result/findings.js";
import { exampleFindings } from "./example-findings.js";

/** A site with nothing in it: every part of the report must say so. */
export const emptyFindings: Findings = {
  ...exampleFindings,
  site: { ...exampleFindings.site, subjects: [], sharedCauses: [] },
  ledger: [],
  diary: { entries: 0, hours: 0, conflicts: { count: 0, brief: 0, hours: 0, list: [] } },
  references: [],
  signals: [],
  bays: [],
  episodes: [],
  phantoms: [],
  disagreements: [],
  clocks: [],
  bands: [],
  changes: [],
  questions: { list: [], rules: [], settling: { count: 0, waiting: 0 }, diaryEnds: null },
  decision: { headline: "There is no rule to decide on. See which sensors to mend.", rules: [], diary: [] },
  mend: [],
  sensors: [],
  typicalDay: null,
  rules: [],
  cost: [],
  notes: [],
};
