import { z } from "zod";
import { keyed, share, text } from "./leaves.js";

const because = text("why you state it").describe("Why: what you have looked at.");
const onePartExpected = "a list of two or more signals of this rule";
const onePartsExpected = "a list of lists of signals, such as [ [ rail, phone ] ]";

/** What a rule may state about the faults of its parts, in the words of the site file. */
export const statedShape = keyed(
  {
    common_cause: keyed(
      {
        at_most: share("a share above 0 and up to 1, such as 0.02, 2 % or 1 in 50").describe("At most this share of the rarer part's false reports also reaches the other part: 0.02, 2 % or 1 in 50."),
        because,
      },
      "a mapping with `at_most` and `because`",
    )
      .optional()
      .describe("How many of the false reports of the part that has fewer may share a cause with the other part. Default: 10 %."),
    no_shared_hours: keyed({ because }, "a mapping with `because`").optional().describe("The faults of the parts share no hour of the day."),
    one_part: z
      .array(z.array(text("a signal of this rule"), { error: onePartExpected }).min(2, { error: onePartExpected }), { error: onePartsExpected })
      .min(1, { error: `${onePartsExpected}, not empty` })
      .optional()
      .describe("Signals of this rule that one event can move: lists of two or more, each to be taken as one part."),
  },
  "a mapping with `common_cause`, `no_shared_hours` or `one_part`",
);
