import { defineConfig } from "vitest/config";

/** The tests that `npm run mutate` runs on each mutant: tests/mutate/mutate.ts hands their globs in. */
export default defineConfig({
  test: {
    include: (process.env["MUTATE_TESTS"] ?? "").split(","),
    // Tests of speed take most of the time and see nothing that the others do not.
    exclude: ["tests/timeline/a-million-steps.test.ts"],
    setupFiles: ["tests/mutate/fixed-seed.ts"],
    testTimeout: 60_000,
  },
});
