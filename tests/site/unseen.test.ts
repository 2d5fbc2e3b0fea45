import { describe, expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";
import { bandStates } from "../../src/truth/signals/reading-states.js";
import { messagesFor, smallSite } from "./small-site.js";

const unseen = (keys: string): string => smallSite.replace("unit: ft, present: [3.7, 4.7], slack: 0.1", keys);

describe("a meter that has not seen a vehicle yet", () => {
  it("tells empty, and is unknown (neither) everywhere else", () => {
    const { band } = parseSite(unseen("unit: cm, present: unseen, empty: [640, 680]"), "s", "/").signals[0]!;
    expect([...bandStates(band!, Float64Array.of(6.61, 1.2, 6.7, 9))]).toEqual([0, 3, 0, 3]);
  });

  it("must say what an empty bay reads", () => {
    expect(messagesFor(unseen("unit: cm, present: unseen"))[0]).toContain("says that no vehicle was seen yet, but not what an empty bay reads");
  });
});
