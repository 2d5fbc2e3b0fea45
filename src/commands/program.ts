import { Command, CommanderError, Option } from "commander";
import type { AskedPeriod } from "../period.js";
import { InputError, problemText } from "../problem.js";
import { version } from "../version.js";
import { runAudit } from "./audit.js";
import { runCheck } from "./check.js";
import { runDraft } from "./draft.js";
import { runSimulate } from "./simulate.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/**
 * Runs the program with its arguments (without node and script) and returns its exit status. Wrong input and a wrong
 * command line are told in words and end with 2; anything else that goes wrong is ours and ends with 1.
 */
export async function runProgram(words: readonly string[], around: Surroundings): Promise<ExitStatus> {
  let status: ExitStatus = 0;
  const program = makeProgram(around, (outcome) => {
    status = outcome;
  });
  try {
    await program.parseAsync([...words], { from: "user" });
    return status;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
    if (error instanceof InputError) {
      for (const one of error.problems) around.tell(`${problemText(one)}\n`);
      return 2;
    }
    around.tell(`Keyworthy failed, and it is not your fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    return 1;
  }
}

function makeProgram(around: Surroundings, done: (status: ExitStatus) => void): Command {
  const program = new Command("keyworthy")
    .description("Is this rule worthy of the key? Judges unlock and lock rules on the exported history of vehicle, door and phone sensors.\nNothing leaves this machine. The results say when nobody is home: they are readable by you alone.")
    .version(version)
    .exitOverride()
    .configureOutput({ writeOut: around.say, writeErr: around.tell })
    .showHelpAfterError("(`keyworthy --help` lists the commands)")
    .addHelpText("after", "\nExit status: 0 done and every rule is clear; 3 done and some rule is not; 2 the input or the command line is wrong; 1 anything else.");

  program
    .command("audit")
    .description("judge every rule and score every signal of one or more sites; writes report.html and its data")
    .argument("<site.yaml...>", "site files")
    .addOption(new Option("--month <yyyy-mm>", "a calendar month of the site's time zone").conflicts(["from", "to"]))
    .option("--from <time>", "begin of the period, a local day or time (default: the first reading)")
    .option("--to <time>", "end of the period, not included (default: the last reading)")
    .option("--out <folder>", "where the result goes (default: reports/SITE/PERIOD)")
    .option("--try <rules.yaml>", "further rules to replay beside the site's own, for comparison")
    .option("--redact", "write the results without names, places and dates, for sharing", false)
    .option("--quiet", "say nothing but problems", false)
    .action(async (siteFiles: string[], options: { month?: string; from?: string; to?: string; out?: string; try?: string; redact: boolean; quiet: boolean }) =>
      done(await runAudit({ siteFiles, period: askedPeriod(options), out: options.out ?? null, tryFile: options.try ?? null, redact: options.redact, quiet: options.quiet }, around)),
    );

  program
    .command("draft")
    .description("look at exports and write a first site file: columns, clocks, kinds, bands, each with its evidence")
    .argument("<export...>", "export files, plain or .gz")
    .option("--out <site.yaml>", "where the site file goes (default: the standard output)")
    .option("--quiet", "nothing but the site file and problems", false)
    .action(async (exports: string[], options: { out?: string; quiet: boolean }) => done(await runDraft({ exports, out: options.out ?? null, quiet: options.quiet }, around)));

  program
    .command("check")
    .description("read everything, score nothing, say what is wrong and where")
    .argument("<site.yaml>", "site file")
    .option("--quiet", "no progress", false)
    .action(async (siteFile: string, options: { quiet: boolean }) => done(await runCheck({ siteFile, quiet: options.quiet }, around)));

  program
    .command("simulate")
    .description("write the exports, the site file and the true diary of an invented site")
    .argument("<scenario.yaml>", "scenario file")
    .requiredOption("--out <folder>", "where they go")
    .option("--quiet", "say nothing but problems", false)
    .action(async (scenarioFile: string, options: { out: string; quiet: boolean }) => done(await runSimulate({ scenarioFile, out: options.out, quiet: options.quiet }, around)));

  return program;
}

function askedPeriod(options: { month?: string; from?: string; to?: string }): AskedPeriod {
  if (options.month !== undefined) return { form: "month", month: options.month };
  if (options.from !== undefined || options.to !== undefined) return { form: "range", from: options.from ?? null, to: options.to ?? null };
  return { form: "all" };
}
