import { Command, CommanderError, Option } from "commander";
import { InputError, problem, problemText } from "../ground/problem.js";
import { version } from "../ground/version.js";
import type { Act } from "../site/site.js";
import { askedPeriod, withPeriod, type PeriodWords } from "./period-options.js";
import { harmlessly } from "./one-line.js";
import { parseShare } from "./share.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { systemFault } from "./system-fault.js";
import { writtenOut } from "./written-out.js";

/**
 * Runs the program with its arguments (without node and script) and returns its exit status. Wrong input and a wrong
 * command line are explained and give 2; anything else that goes wrong is our fault and gives 1.
 */
export async function runProgram(words: readonly string[], surroundings: Surroundings): Promise<ExitStatus> {
  const around = harmlessly(surroundings);
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
    const fault = systemFault(error);
    if (fault !== null) {
      around.tell(`${problemText(problem(fault))}\n`);
      return 1;
    }
    around.tell(`Keyworthy failed, and it is not your fault: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
    return 1;
  }
}

/** Each command loads its code when it is called: loading everything would take longer than printing the help. */
function makeProgram(around: Surroundings, done: (status: ExitStatus) => void): Command {
  const program = new Command("keyworthy")
    .description("Which rules can you switch on? Judges unlock and lock rules on the exported history of vehicle, door and phone sensors.\nNothing leaves this machine. The results say when nobody is home: only you can read them.")
    .version(version)
    .exitOverride()
    .configureOutput({ writeOut: around.say, writeErr: around.tell })
    .showHelpAfterError("(`keyworthy --help` lists the commands)")
    .addHelpText("after", "\nExit status: 0 done and every rule is clear; 3 done and some rule is not; 2 the input or the command line is wrong; 1 anything else.");

  withPeriod(program.command("audit").description("judge every rule and score every signal of one or more sites; writes report.html and its data").argument("<site.yaml...>", "site files"))
    .option("--out <folder>", "where the result goes (default: reports/SITE/PERIOD)", writtenOut)
    .option("--try <rules.yaml>", "further rules to replay beside the site's own, for comparison")
    .option("--redact", "write the results without names, places and dates, for sharing", false)
    .option("--part <I/N>", "audit only the I-th of N shares of the site files; `combine` joins the shares")
    .option("--earlier <folder...>", "where earlier results of the same sites lie (default: reports/SITE, unless --out is given)")
    .option("--alone", "do not look at earlier results", false)
    .option("--forget-rows", "do not repeat rows of the exports in set-aside.csv", false)
    .option("--parquet", "write the tables as Parquet files too", false)
    .option("--timings", "tell how long each step took, and how much memory it came to", false)
    .addOption(new Option("--pages <which>", "draw the page of every site, of those with something to do, or of none").choices(["all", "listed", "none"]).default("all"))
    .option("--fleet <fleet.yaml>", "the fleet file: who belongs, and what is acceptable of a sensor")
    .option("--quiet", "say nothing but problems", false)
    .action(async (siteFiles: string[], options: AuditOptionWords) =>
      done(
        await (await import("./audit.js")).runAudit(
          {
            siteFiles,
            period: askedPeriod(options, around.now()),
            out: options.out ?? null,
            tryFile: options.try ?? null,
            redact: options.redact,
            share: options.part === undefined ? null : parseShare(options.part),
            earlier: { places: options.earlier ?? [], alone: options.alone },
            forgetRows: options.forgetRows,
            parquet: options.parquet,
            pages: options.pages,
            fleetFile: options.fleet ?? null,
            quiet: options.quiet,
            timings: options.timings,
          },
          around,
        ),
      ),
    );

  program
    .command("combine")
    .description("merge finished audits of sites, months and machines into one fleet result")
    .argument("<folder...>", "folders with finished audits in them or below them")
    .requiredOption("--out <folder>", "where the fleet result goes", writtenOut)
    .option("--leave-out-broken", "leave out audits that cannot be read, and name them", false)
    .option("--fleet <fleet.yaml>", "the fleet file: who belongs, and what is acceptable of a sensor")
    .option("--quiet", "say nothing but problems", false)
    .action(async (folders: string[], options: { out: string; leaveOutBroken: boolean; fleet?: string; quiet: boolean }) =>
      done(await (await import("./combine.js")).runCombine({ folders, ...options, fleet: options.fleet ?? null }, around)),
    );

  program
    .command("thin")
    .description("thin old audits to their counts: reports, findings and tables go, later comparisons still work")
    .argument("<folder...>", "folders with finished audits in them or below them")
    .requiredOption("--before <yyyy-mm>", "audits that ended when this month began, or earlier")
    .option("--show", "say which, and touch nothing", false)
    .option("--quiet", "say nothing but problems", false)
    .action(async (folders: string[], options: { before: string; show: boolean; quiet: boolean }) => done(await (await import("./thin.js")).runThin({ folders, before: options.before, only: options.show ? "show" : null, quiet: options.quiet }, around)));

  withPeriod(program.command("confirm").description("ask you at the terminal about the moments that matter most, and write your answers into the diary").argument("<site.yaml>", "site file"))
    .option("--quiet", "no progress", false)
    .action(async (siteFile: string, options: PeriodWords & { quiet: boolean }) => done(await (await import("./confirm.js")).runConfirm({ siteFile, period: askedPeriod(options, around.now()), quiet: options.quiet }, around)));

  program
    .command("explain")
    .description("what every signal said around a moment, and why each rule did or did not fire")
    .argument("<findings.json>", "of a finished audit")
    .requiredOption("--at <time>", "a local time of the site, such as 2026-10-01T17:32")
    .option("--around <length>", "also show changes and firings this long before and after", "10min")
    .action(async (findingsFile: string, options: { at: string; around: string }) => done(await (await import("./explain.js")).runExplain({ findingsFile, ...options }, around)));

  const propose = program
    .command("propose")
    .description("look for better rules than those that are not clear, as text for the site file")
    .argument("<site.yaml>", "site file; it is not changed")
    .addOption(new Option("--act <act>", "only for rules of this act").choices(["unlock", "lock", "disarm", "arm"]))
    .option("--rule <name>", "only for the rule of this name");
  withPeriod(propose)
    .option("--quiet", "no progress", false)
    .action(async (siteFile: string, options: PeriodWords & { act?: Act; rule?: string; quiet: boolean }) =>
      done(await (await import("./propose.js")).runPropose({ siteFile, act: options.act ?? null, rule: options.rule ?? null, period: askedPeriod(options, around.now()), quiet: options.quiet }, around)),
    );

  program
    .command("draft")
    .description("look at exports and write a first site file: columns, clocks, kinds, bands, each with its evidence")
    .argument("<export...>", "export files: text, plain or .gz; .gpx, .gpx.gz, .parquet")
    .option("--out <site.yaml>", "where the site file goes (default: the standard output)", writtenOut)
    .option("--quiet", "nothing but the site file and problems", false)
    .action(async (exports: string[], options: { out?: string; quiet: boolean }) => done(await (await import("./draft.js")).runDraft({ exports, out: options.out ?? null, quiet: options.quiet }, around)));

  program
    .command("check")
    .description("read everything, score nothing, say what is wrong and where")
    .argument("<site.yaml>", "site file")
    .option("--quiet", "no progress", false)
    .action(async (siteFile: string, options: { quiet: boolean }) => done(await (await import("./check.js")).runCheck({ siteFile, quiet: options.quiet }, around)));

  program
    .command("simulate")
    .description("write the exports, the site file and the true diary of an invented site")
    .argument("<scenario.yaml>", "scenario file")
    .requiredOption("--out <folder>", "where they go", writtenOut)
    .option("--quiet", "say nothing but problems", false)
    .action(async (scenarioFile: string, options: { out: string; quiet: boolean }) => done(await (await import("./simulate.js")).runSimulate({ scenarioFile, out: options.out, quiet: options.quiet }, around)));

  return program;
}

/** The options of `audit` as commander gives them. */
interface AuditOptionWords extends PeriodWords {
  readonly out?: string;
  readonly try?: string;
  readonly redact: boolean;
  readonly part?: string;
  readonly earlier?: string[];
  readonly alone: boolean;
  readonly forgetRows: boolean;
  readonly parquet: boolean;
  readonly timings: boolean;
  readonly pages: "all" | "listed" | "none";
  readonly fleet?: string;
  readonly quiet: boolean;
}
