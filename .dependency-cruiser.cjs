/**
 * Imports go one way along the flow. `mayUse` is the whole law: a folder may import itself,
 * the folders named here, and `src/problem.ts` (the one error type), and nothing else of ours.
 */
const mayUse = {
  timeline: [],
  statistics: [],
  site: ["timeline"],
  intake: ["site"],
  signals: ["timeline", "site", "intake"],
  reference: ["timeline", "statistics", "site", "intake", "signals"],
  episodes: ["timeline", "site", "signals", "reference"],
  clocks: ["timeline", "statistics", "site", "signals"],
  bands: ["timeline", "statistics", "site", "intake", "signals", "reference"],
  scoring: ["timeline", "statistics", "site", "intake", "signals", "reference", "episodes"],
  rules: ["timeline", "statistics", "site", "signals", "reference"],
  drills: ["timeline", "site", "signals", "reference", "rules"],
  tuning: ["timeline", "statistics", "site", "signals", "reference", "rules", "drills"],
  confirm: ["timeline", "statistics", "site", "signals", "reference", "rules"],
  findings: ["timeline", "statistics", "site", "intake", "signals", "clocks", "bands", "reference", "episodes", "scoring", "rules", "confirm", "drills", "tuning"],
  months: ["timeline", "statistics", "site", "clocks", "bands", "rules", "findings"],
  fleet: ["statistics", "findings"],
  report: ["findings", "fleet"],
  draft: ["timeline", "statistics", "site", "intake"],
  simulate: ["timeline", "site"],
};

module.exports = {
  forbidden: [
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    { name: "no-orphans", severity: "error", from: { orphan: true, pathNot: "^src/(cli|demo|index)\\.ts$" }, to: {} },
    ...Object.entries(mayUse).map(([folder, others]) => ({
      name: `flow-${folder}`,
      severity: "error",
      comment: `${folder}/ may import only: ${others.join(", ") || "nothing"}`,
      from: { path: `^src/${folder}/` },
      to: { path: "^src/", pathNot: [`^src/(${[folder, ...others].join("|")})/`, "^src/problem\\.ts$"] },
    })),
    {
      name: "pure-core",
      severity: "error",
      comment: "Only intake and site read files, only commands write: the steps between are pure.",
      from: { path: "^src/(timeline|statistics|signals|clocks|bands|reference|episodes|scoring|rules|confirm|drills|tuning|findings|months|fleet|report|draft|simulate)/" },
      to: { dependencyTypes: ["core"], path: "^(node:)?(fs|fs/promises|child_process|http|https|net|worker_threads)$" },
    },
    {
      name: "no-network",
      severity: "error",
      comment: "Presence history never leaves the machine.",
      from: { path: "^src/" },
      to: { dependencyTypes: ["core"], path: "^(node:)?(http|https|http2|net|tls|dgram)$" },
    },
  ],
  options: { tsConfig: { fileName: "tsconfig.json" }, tsPreCompilationDeps: true, doNotFollow: { path: "node_modules" } },
};
