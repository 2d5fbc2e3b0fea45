/**
 * Command lines of the pages that no test runs, each with the reason. Their scripts and files are looked for instead.
 * Whatever is not in this list is run: a new command needs a test, or a line here that says why not.
 */
export const onlyNamed: ReadonlyMap<string, string> = new Map([
  ["npm ci && npm run demo", "npm ci needs a network, and the build came before the tests; the demo itself is run"],
  ["npm ci && npm test", "npm ci needs a network, and npm test is what runs this"],
  ["npm test", "it is what runs this"],
  ["npm run build", "a step of npm test, which ran before this"],
  ["npm run boundaries", "a step of npm test, which ran before this"],
  ["npm run bench", "minutes long, and its figures are those of the machine"],
  ["npm run mutate", "half an hour long, and in no suite: it runs the tests on changed code"],
  ["npm run mutate -- timeline", "minutes long"],
  ["npm run mutate -- statistics --sample 200", "minutes long"],
  ["npm run mutate -- judge --sample 100", "minutes long"],
  ["npm run mutate -- truth --sample 100", "minutes long"],
  ["npm run mutate -- judge truth", "half an hour long"],
  ["npm run mutate -- judge --seed 2", "half an hour long"],
  ["npm run mutate -- statistics --only tails.ts", "minutes long"],
  ["npm run study", "minutes long"],
  ["npm run study:fleet", "minutes long"],
  ["npm run study:verdict", "an hour long; its generator has tests of its own"],
  ["npm run study:verdict -- 30", "minutes long"],
  ["npm run study:evidence", "twenty minutes long; a small sample of it is a test"],
  ["npm run study:evidence -- 200", "minutes long"],
  ["npm run study:questions", "an hour long; a person's answers and the command are tested by themselves"],
  ["npm run study:proposals -- 60", "a quarter of an hour long; its worlds are those of tests/judge/propose"],
  [".ci/run", "installs a browser, then runs npm test"],
  ["npx vitest run tests/result/json-schema.test.ts tests/site/json-schema.test.ts --update", "writes into docs/; npm test runs the same two without --update"],
  ["sbatch --array=7 job.sh", "needs Slurm; the script is run as its task 7, and tests/batch/slurm.sh has a real one"],
  ["tests/batch/slurm.sh", "needs Slurm and root"],
  ["tests/batch/slurm.sh 1000 50000 16", "needs Slurm and root, and takes a quarter of an hour"],
  ["tests/batch/kill.sh 50", "takes minutes"],
]);
