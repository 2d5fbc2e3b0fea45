/** The files of a finished audit. The next run may replace a folder that holds nothing else. */
export const auditFiles = ["report.html", "findings.json", "counts.json", "signals.csv", "episodes.csv", "firings.csv", "set-aside.csv", "to-confirm.csv"] as const;

/** Files written only when asked for, or when there is enough to compare. */
export const furtherFiles = ["signals.parquet", "episodes.parquet", "firings.parquet", "fleet"] as const;
