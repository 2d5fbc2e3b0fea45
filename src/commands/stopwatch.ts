import { auditSteps, type AuditStep } from "../ground/audit-steps.js";
import { SECOND_MS } from "../ground/units.js";

/** Measures what each step of one or more audits costs. */
export interface Stopwatch {
  /** Begins a step and ends the one before. */
  readonly begin: (step: AuditStep) => void;
  /** Ends the last step. A table: a line for each step that there was, and the whole. */
  readonly table: () => string;
}

/** What the process has cost since it began: milliseconds by the clock and of all processors, and the most memory it had. */
export interface Cost {
  readonly ms: number;
  readonly processorMs: number;
  readonly peakMegabytes: number;
}

/** As the operating system counts it. */
function costOfProcess(): Cost {
  const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
  return { ms: performance.now(), processorMs: (userCPUTime + systemCPUTime) / 1000, peakMegabytes: maxRSS / 1024 };
}

/** Its first step is the start of the program. */
export function makeStopwatch(costSoFar: () => Cost = costOfProcess): Stopwatch {
  const spent = new Map<AuditStep, Cost>();
  let running: AuditStep = "starting";
  let since: Cost = { ms: 0, processorMs: 0, peakMegabytes: 0 };
  const end = (): void => {
    const now = costSoFar();
    const before = spent.get(running) ?? { ms: 0, processorMs: 0 };
    spent.set(running, { ms: before.ms + now.ms - since.ms, processorMs: before.processorMs + now.processorMs - since.processorMs, peakMegabytes: now.peakMegabytes });
    since = now;
  };
  return {
    begin(step) {
      end();
      running = step;
    },
    table() {
      end();
      const rows = auditSteps.flatMap((step) => {
        const one = spent.get(step);
        return one === undefined ? [] : [{ step, ...one }];
      });
      return [headLine, ...rows.map((one) => costLine(one.step, one, since)), costLine("the whole", since, since)].join("");
    },
  };
}

const NAME_WIDTH = 18;
const headLine = `${"step".padEnd(NAME_WIDTH)}      time  share  processor    memory\n`;

function costLine(name: string, { ms, processorMs, peakMegabytes }: Cost, whole: Cost): string {
  const seconds = (of: number): string => `${(of / SECOND_MS).toFixed(2)} s`;
  const share = whole.ms === 0 ? 0 : Math.round((100 * ms) / whole.ms);
  return `${name.padEnd(NAME_WIDTH)}${seconds(ms).padStart(10)}${`${share} %`.padStart(7)}${seconds(processorMs).padStart(11)}${`${peakMegabytes.toFixed(0)} MB`.padStart(10)}\n`;
}
