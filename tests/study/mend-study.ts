/**
 * Is the planted fault first among what to mend, and is the list empty in a sound month? `node .build/scripts/tests/study/mend-study.js 5`
 * audits five months each of a few mechanisms of the independent generator, faulty and sound, and prints what came first.
 */
import { auditWorld } from "./verdict/audit-world.js";
import { limitsFor, longRunOf, monthSpan, withinOf } from "./verdict/limits.js";
import { mechanisms } from "./verdict/mechanisms.js";
import { chanceNamed } from "./verdict/random.js";

const [monthsText = "5", onlyText = "even-diary,wrong-zone-rule,wrong-zone-witness,drifting-clock,silent-phone,sticking"] = process.argv.slice(2);

for (const mechanism of mechanisms.filter(({ id }) => onlyText.split(",").includes(id))) {
  const truth = longRunOf(mechanism, 1);
  for (const faulty of [true, false]) {
    const firsts: string[] = [];
    for (let month = 0; month < Number(monthsText); month += 1) {
      const world = mechanism.build(chanceNamed(`mend/${mechanism.id}/${month}`), monthSpan(month), { faulty, seen: true, month });
      const { mend } = await auditWorld(world, limitsFor(mechanism, truth, "keeps", withinOf(world.rule)));
      firsts.push(mend.slice(0, 3).map(({ what, target, weight }) => `${what} ${target} (${weight})`).join(" | ") || "nothing");
    }
    process.stdout.write(`${mechanism.name}, ${faulty ? "faulty" : "sound"}: ${firsts.join("; ")}\n`);
  }
}
