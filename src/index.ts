/** Keyworthy as a library: the same audit the command runs. */
export { audit, auditSite, type AuditOptions } from "./pipeline.js";
export type { AskedPeriod } from "./period.js";
export { InputError, problemText, type Problem, type ProblemCode } from "./problem.js";
export { findingsSchema, type Findings } from "./findings/schema.js";
export { renderReport } from "./report/render.js";
export { loadSite } from "./site/load.js";
export { siteJsonSchema } from "./site/json-schema.js";
export type { Site } from "./site/site.js";
export type { SetAsideRow } from "./intake/readings.js";
export type { IntakeWatch } from "./intake/read-exports.js";
