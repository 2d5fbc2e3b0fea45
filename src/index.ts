/** Keyworthy as a library: the same audit the command runs. */
export { audit, auditSite, type AuditOptions } from "./pipeline.js";
export type { AskedPeriod } from "./intake/period.js";
export { InputError, problemText, type Problem, type ProblemCode } from "./ground/problem.js";
export { findingsSchema, type Findings } from "./result/schema.js";
export { countsOf } from "./result/counts.js";
export { countsSchema, type Counts } from "./result/counts-schema.js";
export { countsJsonSchema, findingsJsonSchema } from "./result/json-schema.js";
export { fleetOf, type FleetMaking } from "./compare/fleets/fleet.js";
export { fleetJsonSchema } from "./result/json-schema.js";
export { fleetSchema, type Fleet } from "./result/fleet-schema.js";
export { renderFleet } from "./report/fleet-page.js";
export { redactFindings } from "./result/redact.js";
export { renderReport } from "./report/render.js";
export { loadSite } from "./site/load.js";
export { siteJsonSchema } from "./site/json-schema.js";
export type { Site } from "./site/site.js";
export type { SetAsideRow } from "./intake/readings.js";
export type { IntakeWatch } from "./intake/read-exports.js";
