/** The files of a finished audit; a folder holding nothing else may be replaced by the next run. */
export const auditFiles = ["report.html", "findings.json", "counts.json", "signals.csv", "episodes.csv", "firings.csv", "set-aside.csv", "to-confirm.csv"] as const;

/** Files that are there only where asked for, or where there is enough to compare. */
export const furtherFiles = ["signals.parquet", "episodes.parquet", "firings.parquet", "fleet"] as const;
