/**
 * Whether proposals hold on a fresh month: a month is audited, and what is proposed is tried beside the present rule on
 * another month of the same household, whose truth is in the diary. `node .build/scripts/tests/study/proposals-study.js 60`
 */
import { auditBeside } from "./proposals/audit.js";
import { anyPhone, known, LIMITS, mishaps, onePhone, slowPhone, sound } from "./proposals/worlds.js";
import { monthSpan } from "./verdict/limits.js";

const months = Number(process.argv[2] ?? "60");
const worlds = { sound, mishaps, slowPhone, onePhone, anyPhone };

for (const [kind, build] of Object.entries(worlds)) {
  const sums = { proposing: 0, proposals: 0, better: 0, same: 0, worse: 0, presentWrong: 0, presentMissed: 0, wrong: 0, missed: 0 };
  for (let month = 0; month < months; month += 1) {
    const { findings } = await auditBeside(build(`study ${kind} ${month}`, monthSpan(0)), LIMITS, "");
    const proposals = findings.proposals[0]?.proposals ?? [];
    if (proposals.length === 0) continue;
    sums.proposing += 1;
    const fresh = await auditBeside(known(build(`study ${kind} ${month} fresh`, monthSpan(1))), LIMITS, proposals.map(({ yaml }) => yaml).join(""));
    const [present] = fresh.findings.rules;
    const bad = (rule: typeof present): number => (rule?.firings.wrong ?? 0) + (rule?.wanted.missed ?? 0) + (rule?.wanted.late ?? 0);
    for (const rule of fresh.findings.tried) {
      sums.proposals += 1;
      sums[bad(rule) < bad(present) ? "better" : bad(rule) > bad(present) ? "worse" : "same"] += 1;
      sums.presentWrong += present?.firings.wrong ?? 0;
      sums.presentMissed += (present?.wanted.missed ?? 0) + (present?.wanted.late ?? 0);
      sums.wrong += rule.firings.wrong;
      sums.missed += rule.wanted.missed + rule.wanted.late;
    }
  }
  process.stdout.write(`${kind}: ${months} months, ${JSON.stringify(sums)}\n`);
}
