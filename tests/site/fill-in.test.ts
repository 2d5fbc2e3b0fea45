import { describe, expect, it } from "vitest";
import { edited, messagesFor } from "./small-site.js";

describe("a drafted site file that is not filled in", () => {
  it("names each place once, in the stead of what the filler would be wrong for, and beside other mistakes", () => {
    const text = edited(["timezone: Europe/London", "timezone: FILL-IN"], ["open: 1, closed: 0", "open: FILL-IN, closed: FILL-IN"], ["slack: 0.1", "slak: 0.1"]);
    expect(messagesFor(text).map((message) => message.replace(/^site\.yaml:(\d+):\d+: /, "$1: "))).toEqual([
      '2: timezone is still to be filled in. Expected an answer to the question above it, marked "# FILL IN:"; found FILL-IN.',
      expect.stringMatching(/^18: "slak" is not a key of signals › overhead\./),
      '19: signals › rail › open is still to be filled in. Expected an answer to the question above it, marked "# FILL IN:"; found FILL-IN.',
      '19: signals › rail › closed is still to be filled in. Expected an answer to the question above it, marked "# FILL IN:"; found FILL-IN.',
    ]);
  });
});
