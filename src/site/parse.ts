import { InputError } from "../ground/problem.js";
import { checkNamedConditions } from "./build-condition.js";
import { buildLimits, sensorLimitsOf } from "./build-limits.js";
import { buildRules } from "./build-rules.js";
import { buildSignals } from "./build-signals.js";
import { buildSources, checkTimeZone } from "./build-sources.js";
import { buildSubjects } from "./build-subjects.js";
import { checkShape } from "./check-shape.js";
import { makeComplaints, sortedProblems } from "./complaints.js";
import { makeDraft } from "./draft.js";
import { withFillIns } from "./fill-in.js";
import type { Site } from "./site.js";
import { readYaml } from "./yaml-text.js";

/** Confidence of intervals and bounds where the site file does not say (common practice, no source). */
const DEFAULT_CONFIDENCE = 0.95;
/** A restart of a small board is over within a minute; a longer gap hides too much (our own choice). */
const DEFAULT_BRIDGE_MS = 60_000;
/** From the first sensor that sees a vehicle to the last door that closes behind it (our own choice). */
const DEFAULT_JOIN_MS = 10 * 60_000;
/** Signals of one board fall silent together; their last readings lie a few seconds apart (our own choice). */
const DEFAULT_RESTART_MS = 10_000;

/**
 * Reads a site file. `file` is what messages call it; `folder` is what its paths are relative to.
 *
 * YAML text -> written values with their places -> shape (zod) -> subjects, sources, signals, rules with names looked up.
 * Throws `InputError` with every problem found, in order of line; throws nothing else.
 */
export function parseSite(text: string, file: string, folder: string): Site {
  const yaml = readYaml(text, file);
  const complaints = makeComplaints(yaml, file);
  const shaped = checkShape(yaml, complaints);
  if (shaped === null) throw new InputError(sortedProblems(withFillIns(complaints.problems, yaml, file)));
  const draft = makeDraft(yaml, shaped, file, complaints);
  const { site } = draft;
  checkTimeZone(site.timezone, ["timezone"], draft);
  const subjects = buildSubjects(draft);
  const sources = buildSources(draft);
  const signals = buildSignals(draft, sources);
  checkNamedConditions(draft);
  const rules = buildRules(draft, { subjects, signals }, yaml);
  const limits = buildLimits(draft);
  const problems = withFillIns(complaints.problems, yaml, file);
  if (problems.length > 0) throw new InputError(sortedProblems(problems));
  return {
    name: site.site,
    file,
    folder,
    timeZone: site.timezone,
    sources,
    subjects,
    signals,
    rules,
    confidence: site.limits?.confidence ?? DEFAULT_CONFIDENCE,
    limits,
    ...(site.limits?.sensors === undefined ? {} : { sensorLimits: sensorLimitsOf(site.limits.sensors) }),
    diary: site.diary?.files ?? [],
    bridgeMs: site.settings?.bridge ?? DEFAULT_BRIDGE_MS,
    joinMs: site.settings?.join ?? DEFAULT_JOIN_MS,
    restartMs: site.settings?.restart ?? DEFAULT_RESTART_MS,
  };
}
