/** A folder of src/ whose tests are tried on mutants. */
export interface MutatedFolder {
  /** Tests that may run: those of the folder, and those elsewhere that use it. */
  readonly tests: readonly string[];
  /** How many mutants are drawn; 0 for all of them, where that takes less than an hour on two quiet cores. */
  readonly sampleSize: number;
}

const PUBLISHED = ["tests/published/!(duckdb).test.ts", "tests/common-practice/*.test.ts"];

/** The folders that `npm run mutate -- NAME` knows, by name. */
export const mutatedFolders: Readonly<Record<string, MutatedFolder>> = {
  timeline: { tests: ["tests/timeline/*.test.ts", ...PUBLISHED], sampleSize: 0 },
  statistics: { tests: ["tests/statistics/*.test.ts", ...PUBLISHED], sampleSize: 0 },
  judge: { tests: ["tests/judge/**/*.test.ts", ...PUBLISHED], sampleSize: 250 },
  truth: { tests: ["tests/truth/**/*.test.ts", ...PUBLISHED], sampleSize: 250 },
};
