/**
 * Is the planted fault first among what to mend, and is the list empty in a sound month? `node .build/scripts/tests/study/mend-study.js 12`
 * audits twelve months each of a few mechanisms of the independent generator, with the fault and without any, and counts. A second
 * argument chooses mechanisms by their ids, with commas.
 */
import { auditWorld } from "./verdict/audit-world.js";
import { limitsFor, longRunOf, monthSpan, withinOf } from "./verdict/limits.js";
import { mechanisms } from "./verdict/mechanisms.js";
import { chanceNamed } from "./verdict/random.js";

/** What is wrong in each mechanism: the kind of entry, and what its target begins with. */
const planted: Readonly<Record<string, RegExp>> = {
  "even-diary": /^signal phone-/,
  "wrong-zone-rule": /^clock phones$/,
  "wrong-zone-witness": /^clock tags$/,
  "drifting-clock": /^clock phones$/,
  "silent-phone": /^(cause phone-link|signal phone-)/,
  sticking: /^signal gate-contact$/,
};

const [monthsText = "12", onlyText = Object.keys(planted).join(",")] = process.argv.slice(2);
const months = Array.from({ length: Number(monthsText) }, (_, month) => month);

for (const mechanism of mechanisms.filter(({ id }) => onlyText.split(",").includes(id))) {
  const truth = longRunOf(mechanism, 1);
  for (const wrong of [true, false]) {
    const lists: string[][] = [];
    for (const month of months) {
      const world = mechanism.build(chanceNamed(`mend/${mechanism.id}/${month}`), monthSpan(month), { faulty: wrong, seen: wrong, month });
      const { mend } = await auditWorld(world, limitsFor(mechanism, truth, "keeps", withinOf(world.rule)));
      lists.push(mend.map(({ what, target }) => `${what} ${target}`));
    }
    const fault = planted[mechanism.id] ?? /^/;
    const first = lists.filter(([head]) => head !== undefined && fault.test(head)).length;
    const listed = lists.filter((list) => list.some((one) => fault.test(one))).length;
    const others = lists.flatMap((list) => list.filter((one) => !fault.test(one)));
    const named = [...new Set(others)].map((one) => `${one} in ${others.filter((other) => other === one).length}`).join(", ");
    process.stdout.write(
      wrong
        ? `${mechanism.name}: planted fault first in ${first} of ${lists.length} months, listed in ${listed}; besides: ${named || "nothing"}\n`
        : `  without it: empty in ${lists.filter(({ length }) => length === 0).length} of ${lists.length} months; listed: ${lists.flat().join(", ") || "nothing"}\n`,
    );
  }
}
