import { WRITTEN_LIST } from "./written-list.js";

/** The files of a finished audit. */
export const auditFiles = ["report.html", "findings.json", "counts.json", "signals.csv", "episodes.csv", "firings.csv", "set-aside.csv", "to-confirm.csv", WRITTEN_LIST] as const;
