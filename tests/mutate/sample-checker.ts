/**
 * A Stryker checker that lets a seeded random sample of the mutants through. Stryker asks it about every mutant before
 * running any; the others are turned down as if they did not compile, and so count in no score.
 */
import { createHash } from "node:crypto";
import { CheckStatus, type Checker } from "@stryker-mutator/api/check";
import type { Mutant, StrykerOptions } from "@stryker-mutator/api/core";
import { commonTokens, declareFactoryPlugin, PluginKind, tokens } from "@stryker-mutator/api/plugin";

/** The part of Stryker's options that is ours. */
export interface SampleOptions {
  readonly sample: { readonly size: number; readonly seed: number };
}

/** Tells Stryker that `sample` is an option and not a slip of the pen. */
export const strykerValidationSchema = { properties: { sample: { type: "object" } } };

/** The ids of `size` mutants, any as likely as another. The draw depends on nothing but the seed and the mutants themselves. */
export function drawSample(mutants: readonly Mutant[], { size, seed }: SampleOptions["sample"]): ReadonlySet<string> {
  const draw = ({ fileName, location, mutatorName, replacement }: Mutant): string =>
    createHash("sha256").update(JSON.stringify([seed, fileName, location, mutatorName, replacement])).digest("hex");
  const drawn = mutants.map((mutant) => ({ id: mutant.id, draw: draw({ ...mutant, fileName: projectPath(mutant.fileName) }) }));
  drawn.sort((a, b) => (a.draw < b.draw ? -1 : 1));
  return new Set(drawn.slice(0, size).map(({ id }) => id));
}

/** The path from src/ on: the draw must not depend on where the project lies. */
function projectPath(fileName: string): string {
  return fileName.slice(fileName.lastIndexOf("/src/") + 1);
}

function sampleChecker(options: StrykerOptions): Checker {
  const { sample } = options as StrykerOptions & SampleOptions;
  return {
    init: () => Promise.resolve(),
    // One group with all mutants, so that `check` sees them together.
    group: (mutants) => Promise.resolve([mutants.map(({ id }) => id)]),
    check: (mutants) => {
      const ids = drawSample(mutants, sample);
      return Promise.resolve(
        Object.fromEntries(
          mutants.map(({ id }) => [id, ids.has(id) ? { status: CheckStatus.Passed } : { status: CheckStatus.CompileError, reason: "not drawn" }]),
        ),
      );
    },
  };
}
sampleChecker.inject = tokens(commonTokens.options);

/** What Stryker loads from this file. */
export const strykerPlugins = [declareFactoryPlugin(PluginKind.Checker, "sample", sampleChecker)];
