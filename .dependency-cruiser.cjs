/**
 * Imports go one way along the flow. `mayUse` is the whole law: a folder may import itself and the folders named
 * here, and nothing else of ours. Every folder may import `ground/`, which imports nothing.
 */
const mayUse = {
  ground: [],
  timeline: [],
  statistics: ["result"],
  result: ["timeline"],
  site: ["timeline"],
  intake: ["site", "timeline", "result"],
  truth: ["intake", "site", "timeline", "statistics", "result"],
  judge: ["truth", "intake", "site", "timeline", "statistics", "result"],
  compare: ["judge", "truth", "intake", "site", "timeline", "statistics", "result"],
  decide: ["judge", "site", "statistics", "timeline", "result"],
  report: ["result"],
  draft: ["truth", "intake", "site", "timeline", "statistics"],
  simulate: ["site", "timeline"],
};

module.exports = {
  forbidden: [
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    { name: "no-orphans", severity: "error", from: { orphan: true, pathNot: "^src/(cli|index|commands/demo)\\.ts$|^src/start\\.mjs$" }, to: {} },
    ...Object.entries(mayUse).map(([folder, others]) => ({
      name: `flow-${folder}`,
      severity: "error",
      comment: `${folder}/ may import only: ${others.join(", ") || "nothing"}`,
      from: { path: `^src/${folder}/` },
      to: { path: "^src/", pathNot: [`^src/(${[folder, "ground", ...others].join("|")})/`] },
    })),
    {
      name: "pure-core",
      severity: "error",
      comment: "Only intake and site read files, only commands write: the steps between are pure.",
      from: { path: "^src/(timeline|statistics|result|truth|judge|compare|decide|report|draft|simulate)/" },
      to: { dependencyTypes: ["core"], path: "^(node:)?(fs|fs/promises|child_process|http|https|net|worker_threads)$" },
    },
    {
      name: "core-draws-nothing",
      severity: "error",
      comment: "A program that only reads verdicts does not load what draws: the pages are in keyworthy/report.",
      from: { path: "^src/index\\.ts$" },
      to: { path: "^src/report/|node_modules/(vega|vega-lite|preact|preact-render-to-string)/", reachable: true },
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
