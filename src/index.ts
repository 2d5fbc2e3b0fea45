/** Keyworthy as a library: the same audit the command runs. */
export { audit, auditSite, type AuditOptions } from "./pipeline.js";
export type { AskedPeriod } from "./period.js";
export { InputError, problemText, type Problem, type ProblemCode } from "./problem.js";
export { findingsSchema, type Findings } from "./findings/schema.js";
export { countsOf } from "./findings/counts.js";
export { countsSchema, type Counts } from "./findings/counts-schema.js";
export { countsJsonSchema, findingsJsonSchema } from "./findings/json-schema.js";
export { fleetOf, type FleetMaking } from "./fleet/fleet.js";
export { fleetJsonSchema } from "./fleet/json-schema.js";
export { fleetSchema, type Fleet } from "./fleet/schema.js";
export { renderFleet } from "./report/fleet-page.js";
export { redactFindings } from "./findings/redact.js";
export { renderReport } from "./report/render.js";
export { loadSite } from "./site/load.js";
export { siteJsonSchema } from "./site/json-schema.js";
export type { Site } from "./site/site.js";
export type { SetAsideRow } from "./intake/readings.js";
export type { IntakeWatch } from "./intake/read-exports.js";
