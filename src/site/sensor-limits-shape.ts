import { duration, keyed, number } from "./leaves.js";

const shareOf = (what: string) =>
  number(`${what}, a share above 0 and up to 1 (0.05 is one in twenty)`, (value) => value > 0 && value <= 1, { exclusiveMinimum: 0, maximum: 1 });

/** What is accepted of a sensor before somebody is sent to it, in site and fleet files. */
export const sensorLimitsShape = keyed(
  {
    missed_share: shareOf("missed changes").optional().describe("At most this share of the changes missed. Default: 0.05."),
    false_share: shareOf("false reports").optional().describe("At most this many false reports for each change. Default: 0.05."),
    silent_share: shareOf("silence").optional().describe("Silent for at most this share of the time. Default: 0.05."),
    late: duration("positive").optional().describe("Usually at most this late. Default: 2min."),
  },
  "a mapping with missed_share, false_share, silent_share or late",
);
