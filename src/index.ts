/**
 * Keyworthy as a library: the audit that the command runs. Drawing is in `keyworthy/report`, so that a program that only
 * reads verdicts does not load what draws.
 */
export { audit, auditSite, type AuditOptions } from "./pipeline.js";
export type { AskedPeriod } from "./intake/period.js";
export { InputError, problemText, type Problem, type ProblemCode } from "./ground/problem.js";
export { findingsSchema, type Findings } from "./result/schema.js";
export { countsOf } from "./result/counts.js";
export { countsSchema, type Counts } from "./result/counts-schema.js";
export { countsJsonSchema, findingsJsonSchema, fleetJsonSchema } from "./result/json-schema.js";
export { decoded, jsonText } from "./result/json-text.js";
export { fleetOf, type FleetMaking } from "./compare/fleets/fleet.js";
export { fleetSchema, type Fleet } from "./result/fleet-schema.js";
export { redactFindings } from "./result/redact.js";
export { loadRules, loadSite } from "./site/load.js";
export { siteJsonSchema } from "./site/json-schema.js";
export type { RuleSpec, Site } from "./site/site.js";
export type { IntakeWatch, SetAsideRow } from "./intake/readings.js";
