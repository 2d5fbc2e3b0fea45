import { describe, expect, it } from "vitest";
import { edited, messagesFor } from "./small-site.js";

// Each line: what is wrong, how the small site is broken, and the whole message with its place.
describe("messages about the shape of the file", () => {
  it.each<[string, [string, string][], string[]]>([
    [
      "a key that is unknown, with the one that was meant",
      [["slack: 0.1", "slak: 0.1"]],
      ["site.yaml:18:99: \"slak\" is not a key of signals › overhead. Expected one of on, source, channel, kind, unit, present, radius, slack, maximum, open, closed, occupied, empty, here, away, stirs, still, lasts, settle, expect, shares, independent, model, firmware. To mend it: did you mean \"slack\"?"],
    ],
    [
      "an unknown key at the top level",
      [["limits:", "limts:"]],
      ["site.yaml:29:1: \"limts\" is not a key of the site file. Expected one of $schema, site, timezone, home, sources, bays, doors, people, signals, named, rules, limits, diary, settings. To mend it: did you mean \"limits\"?"],
    ],
    [
      "a missing key at the top level",
      [["timezone: Europe/London\n", ""]],
      ["site.yaml:1:1: \"timezone\" is missing in the site file. Expected a time zone such as Europe/London."],
    ],
    [
      "a missing key of an entry",
      [["kind: contact, ", ""]],
      ["site.yaml:19:3: \"kind\" is missing in signals › rail. Expected distance, contact, phone, position, flag or stir."],
    ],
    [
      "a misspelt choice",
      [["kind: contact", "kind: contac"]],
      ["site.yaml:19:53: The value of signals › rail › kind cannot be used. Expected distance, contact, phone, position, flag or stir; found \"contac\". To mend it: did you mean \"contact\"?"],
    ],
    [
      "a duration without a unit",
      [["within: 2min }\n        -", "within: 120 }\n        -"]],
      ["site.yaml:27:57: The value of rules › item 1 › when › all › item 1 › within cannot be used. Expected a duration with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min; found \"120\"."],
    ],
    [
      "a duration in an unknown unit",
      [["slack: 0.1", "settle: 3m"]],
      ["site.yaml:18:107: The value of signals › overhead › settle cannot be used. Expected a duration with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min; found \"3m\"."],
    ],
    [
      "a duration of nothing where it must last",
      [["slack: 0.1", "expect: 0s"]],
      ["site.yaml:18:107: The value of signals › overhead › expect cannot be used. Expected a duration above zero, with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min; found \"0s\"."],
    ],
    [
      "a clock correction without a unit",
      [["value: reading", "value: reading\n    clock_correction: 90"]],
      ["site.yaml:10:23: The value of sources › log › clock_correction cannot be used. Expected a duration with its unit (ms, s, min, h or d), such as 90s or -90s; found \"90\"."],
    ],
    [
      "control characters in a text",
      [["site: Heron Lane", "site: \"Heron\\u0007Lane\""]],
      ["site.yaml:1:7: The value of site cannot be used. Expected the site's name, without control characters; found \"Heron\\u0007Lane\"."],
    ],
    [
      "control characters in a name",
      [["bays: { bay-1:", "bays: { \"bay\\u0007\":"]],
      [
        "site.yaml:14:9: A key must not contain control characters. Found \"bay\\u0007\".",
        "site.yaml:18:19: The signal \"overhead\" is on \"bay-1\", which is not a bay, door or person of this site. Expected one of gate, mira, tom. To mend it: add it under bays, doors or people.",
      ],
    ],
    [
      "an empty name",
      [["site: Heron Lane", "site: \" \""]],
      ["site.yaml:1:7: The value of site cannot be used. Expected the site's name, not empty; found \" \"."],
    ],
    [
      "a name given twice",
      [["doors: { gate: {} }", "doors: { gate: {}, gate: {} }"]],
      ["site.yaml:15:20: \"gate\" is given twice. Expected each key once; found the first on line 15. To mend it: rename one, or delete it."],
    ],
    [
      "a mapping for the rules",
      [["rules:\n  - name: unlock\n    act: unlock\n    when:", "rules:\n    name: unlock\n    act: unlock\n    when:"]],
      ["site.yaml:22:1: The value of rules cannot be used. Expected a list of rules; found a mapping with name, act, when."],
    ],
    [
      "a key without a value",
      [["site: Heron Lane", "site:"]],
      ["site.yaml:1:1: The value of site cannot be used. Expected the site's name; found nothing."],
    ],
    [
      "a text for a mapping",
      [["bays: { bay-1: { vehicle: estate } }", "bays: { bay-1: estate }"]],
      ["site.yaml:14:16: The value of bays › bay-1 cannot be used. Expected {} or { vehicle: NAME }; found \"estate\"."],
    ],
    [
      "a latitude beyond the pole",
      [["latitude: 50.0", "latitude: 95"]],
      ["site.yaml:3:19: The value of home › latitude cannot be used. Expected a latitude in degrees, -90 to 90; found \"95\"."],
    ],
    [
      "a confidence in percent",
      [["limits:", "limits:\n  confidence: 95"]],
      ["site.yaml:30:15: The value of limits › confidence cannot be used. Expected a number between 0.5 and 1, such as 0.95; found \"95\"."],
    ],
    [
      "a limit of zero",
      [["wrong_per_year: 0.5", "wrong_per_year: 0"]],
      ["site.yaml:30:29: The value of limits › unlock › wrong_per_year cannot be used. Expected a number above 0; found \"0\"."],
    ],
    [
      "a share in percent",
      [["missed_share: 0.1", "missed_share: 10%"]],
      ["site.yaml:30:48: The value of limits › unlock › missed_share cannot be used. Expected a share above 0 and up to 1 (0.1 is one in ten); found \"10%\"."],
    ],
    [
      "limits without a time",
      [["missed_share: 0.1, within: 2min", "missed_share: 0.1"]],
      ["site.yaml:30:3: \"within\" is missing in limits › unlock. Expected a duration above zero, with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min."],
    ],
  ])("%s", (_, edits, messages) => expect(messagesFor(edited(...edits))).toEqual(messages));
});
