import { describe, expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";
import { edited, messagesFor } from "./small-site.js";

// Each line: what is wrong, how the small site is broken, and the whole message with its place.
describe("messages about subjects and signals", () => {
  it.each<[string, [string, string][], string[]]>([
    [
      "a signal on an unknown subject",
      [["on: bay-1", "on: bay-2"]],
      [
        "site.yaml:14:9: No signal watches the bay \"bay-1\". To mend it: add a signal with \"on: bay-1\", or take the bay out.",
        "site.yaml:18:19: The signal \"overhead\" is on \"bay-2\", which is not a bay, door or person of this site. Expected one of bay-1, gate, mira, tom. To mend it: did you mean \"bay-1\"?",
      ],
    ],
    [
      "a signal from an unknown source",
      [["source: log, channel: d1", "source: lgo, channel: d1"]],
      ["site.yaml:18:34: The signal \"overhead\" comes from the source \"lgo\", which the file does not describe. Expected one of log, phones. To mend it: did you mean \"log\"?"],
    ],
    [
      "a phone on a door",
      [["on: gate, source: log, channel: r1, kind: contact, open: 1, closed: 0", "on: gate, source: log, channel: r1, kind: phone, open: 1, closed: 0"]],
      ["site.yaml:19:53: A phone signal cannot watch the door \"gate\". Expected a phone to be on a person. To mend it: use \"kind: flag\" for a plain yes or no."],
    ],
    [
      "a contact on a person",
      [["on: mira, source: phones, kind: phone", "on: mira, source: phones, kind: contact"]],
      ["site.yaml:20:49: A contact signal cannot watch the person \"mira\". Expected a contact to be on a door or bay. To mend it: use \"kind: flag\" for a plain yes or no."],
    ],
    [
      "a door that nothing watches",
      [["doors: { gate: {} }", "doors: { gate: {}, shed: {} }"]],
      ["site.yaml:15:20: No signal watches the door \"shed\". To mend it: add a signal with \"on: shed\", or take the door out."],
    ],
    [
      "a name that is both a door's and a person's",
      [["doors: { gate: {} }", "doors: { gate: {}, mira: {} }"]],
      ["site.yaml:16:11: \"mira\" is already the name of a door. Expected each bay, door and person to have a name of its own."],
    ],
    [
      "a site with nothing to watch",
      [["bays: { bay-1: { vehicle: estate } }\ndoors: { gate: {} }\npeople: { mira: {}, tom: {} }\n", ""]],
      [
        "site.yaml:1:1: The site has no bay, door or person. To mend it: list what the signals watch under bays, doors or people.",
        "site.yaml:15:19: The signal \"overhead\" is on \"bay-1\", which is not a bay, door or person of this site. To mend it: add it under bays, doors or people.",
        "site.yaml:16:15: The signal \"rail\" is on \"gate\", which is not a bay, door or person of this site. To mend it: add it under bays, doors or people.",
        "site.yaml:17:21: The signal \"phone-mira\" is on \"mira\", which is not a bay, door or person of this site. To mend it: add it under bays, doors or people.",
        "site.yaml:18:20: The signal \"place-tom\" is on \"tom\", which is not a bay, door or person of this site. To mend it: add it under bays, doors or people.",
      ],
    ],
    [
      "a signal with the name of somebody else",
      [["phone-mira: Mira", "tom: Mira"], ["  phone-mira: { on: mira", "  tom: { on: mira"]],
      ["site.yaml:20:3: The signal \"tom\" has the name of a person that it does not watch. To mend it: rename the signal."],
    ],
    [
      "a signal called independent of one that is not there",
      [["unit: ft", "unit: ft, independent: { of: rial, because: other board }"]],
      ["site.yaml:18:97: The signal \"overhead\" is called independent of \"rial\", which is not another signal of this site. Expected one of rail, phone-mira, place-tom. To mend it: did you mean \"rail\"?"],
    ],
    [
      "a signal called independent of another without a reason",
      [["unit: ft", "unit: ft, shares: board-a, independent: { of: rail }"]],
      ["site.yaml:18:95: \"because\" is missing in signals › overhead › independent. Expected why they are independent."],
    ],
    [
      "a signal called independent of one that it shares a board with",
      [["unit: ft", "unit: ft, shares: board-a, independent: { of: [rail, phone-mira], because: other board }"], ["kind: contact,", "kind: contact, shares: [hub, board-a],"]],
      ["site.yaml:18:114: The signals \"overhead\" and \"rail\" are called independent, but both share \"board-a\". To mend it: delete whichever is wrong: `independent`, or the name under `shares`."],
    ],
    [
      "an unknown unit",
      [["unit: ft", "unit: inch"]],
      ["site.yaml:18:74: The value of signals › overhead › unit cannot be used. Expected m, cm, mm, ft or in; found \"inch\"."],
    ],
    [
      "a distance without a unit",
      [["unit: ft, ", ""]],
      ["site.yaml:18:3: \"unit\" is missing in signals › overhead. Expected the unit of the distances in the export: m, cm, mm, ft or in."],
    ],
    [
      "a distance without a band",
      [["present: [3.7, 4.7], ", ""]],
      ["site.yaml:18:3: \"present\" is missing in signals › overhead. Expected [near, far], the band of distances in which a vehicle is present."],
    ],
    [
      "an empty band",
      [["[3.7, 4.7]", "[4.7, 3.7]"]],
      ["site.yaml:18:87: The band of signals › overhead is empty. Expected [near, far] with near less than far; found [4.7, 3.7]."],
    ],
    [
      "a band below zero",
      [["[3.7, 4.7]", "[-1, 4.7]"]],
      ["site.yaml:18:88: The band of signals › overhead starts below zero. Expected zero or more; found -1."],
    ],
    [
      "a band of three",
      [["[3.7, 4.7]", "[3.7, 4.7, 5]"]],
      ["site.yaml:18:78: The value of signals › overhead › present cannot be used. Expected two distances, [near, far]; found a list of 3."],
    ],
    [
      "a band with a word",
      [["[3.7, 4.7]", "[3.7, far]"]],
      ["site.yaml:18:93: The value of signals › overhead › present › item 2 cannot be used. Expected a distance such as 3.7 or 110cm; found \"far\"."],
    ],
    [
      "a negative slack",
      [["slack: 0.1", "slack: -0.1"]],
      ["site.yaml:18:106: The slack of signals › overhead is negative. Expected zero or more: once on, the band becomes wider, not narrower; found -0.1."],
    ],
    [
      "a maximum within the band",
      [["slack: 0.1", "maximum: 100cm"]],
      ["site.yaml:18:108: The maximum of signals › overhead cuts off its band. Expected more than the far end, 4.7; found 100cm."],
    ],
    [
      "a radius without a unit",
      [["radius: 150m", "radius: 150"]],
      ["site.yaml:21:65: A length of signals › place-tom has no unit. Expected a length such as 150m, or \"unit\" beside it; found 150."],
    ],
    [
      "a radius of nothing",
      [["radius: 150m", "radius: 0m"]],
      ["site.yaml:21:65: The radius of signals › place-tom is zero or less. Expected a length above zero; found 0m."],
    ],
    [
      "a position without a radius",
      [[", radius: 150m", ""]],
      ["site.yaml:21:3: \"radius\" is missing in signals › place-tom. Expected how near home counts as here, such as 150m."],
    ],
    [
      "a position's slack without a unit",
      [["radius: 150m", "radius: 150m, slack: 5"]],
      ["site.yaml:21:78: A length of signals › place-tom has no unit. Expected a length such as 150m, or \"unit\" beside it; found 5."],
    ],
    [
      "a position without a home",
      [["home: { latitude: 50.0, longitude: -3.0 }\n", ""]],
      ["site.yaml:20:3: The position signal \"place-tom\" needs to know where home is. To mend it: add \"home: { latitude: ..., longitude: ... }\" at the top level."],
    ],
    [
      "a key of another kind",
      [["kind: contact", "kind: contact, radius: 5m"]],
      ["site.yaml:19:62: A contact signal has no \"radius\", in signals › rail. To mend it: delete it, or change the kind."],
    ],
    [
      "words of another class",
      [["open: 1, closed: 0", "open: 1, closed: 0, empty: 5"]],
      ["site.yaml:19:82: \"empty\" is not a state of the door \"gate\". Expected the words under \"open\" and \"closed\"."],
    ],
    [
      "missing words",
      [[", closed: 0", ""]],
      ["site.yaml:19:3: \"closed\" is missing in signals › rail. Expected the words of the export that mean closed."],
    ],
    [
      "a word for both states",
      [["closed: 0", "closed: [0, 1]"]],
      ["site.yaml:19:71: The word \"1\" of signals › rail means both open and closed. To mend it: keep it in one of the two lists."],
    ],
    [
      "a word that the source calls missing",
      [["closed: 0", "closed: [0, \"\"]"]],
      ["site.yaml:19:71: The word \"\" of signals › rail is also listed as missing or lost in the source \"log\". To mend it: keep it in one of the lists."],
    ],
    [
      "an empty list of words",
      [["closed: 0", "closed: []"]],
      ["site.yaml:19:71: The value of signals › rail › closed cannot be used. Expected a word or a list of words as they stand in the export, not empty; found an empty list."],
    ],
    [
      "empty readings in the band",
      [["slack: 0.1", "empty: [4.6, 8]"]],
      ["site.yaml:18:106: The empty readings of signals › overhead › empty lie in the band in which a vehicle is present. Expected distances outside of `present`; found [4.6, 8]."],
    ],
    [
      "one of several empty readings the wrong way round",
      [["slack: 0.1", "empty: [[6, 7], [9, 8]]"]],
      ["site.yaml:18:115: The empty readings of signals › overhead › empty › item 2 are the wrong way round. Expected [near, far] with near up to far; found [9, 8]."],
    ],
    [
      "empty readings below zero",
      [["slack: 0.1", "empty: [-1, 2]"]],
      ["site.yaml:18:106: The empty readings of signals › overhead › empty start below zero. Expected zero or more; found [-1, 2]."],
    ],
    [
      "three empty readings",
      [["slack: 0.1", "empty: [6, 7, 8]"]],
      ["site.yaml:18:99: The value of signals › overhead › empty cannot be used. Expected two distances, [near, far], or a list of such pairs; found a list of 3."],
    ],
    [
      "an empty reading that is a word",
      [["slack: 0.1", "empty: vacant"]],
      ["site.yaml:18:99: The value of signals › overhead › empty cannot be used. Expected two distances, [near, far], or a list of such pairs; found \"vacant\"."],
    ],
    [
      "empty readings of which one is no distance",
      [["slack: 0.1", "empty: [6, far]"]],
      ["site.yaml:18:110: The value of signals › overhead › empty › item 2 cannot be used. Expected a distance such as 7.9 or 240cm; found \"far\"."],
    ],
    [
      "distances where words are wanted",
      [["  rail:", "  mat: { on: bay-1, source: log, channel: m1, kind: flag, occupied: 1, empty: [[6, 7]] }\n  rail:"]],
      ["site.yaml:19:72: The value of signals › mat › empty cannot be used. Expected a word or a list of words as they stand in the export; found a list within a list."],
    ],
  ])("%s", (_, edits, messages) => expect(messagesFor(edited(...edits))).toEqual(messages));
});

describe("the readings of an empty bay", () => {
  const bandOf = (text: string) => parseSite(text, "site.yaml", "/somewhere").signals[0]!.band;

  it("are one pair of distances or several, in the signal's unit or their own", () => {
    expect(bandOf(edited(["slack: 0.1", "empty: [7.5, 270cm]"]))?.empty).toEqual([{ nearMetres: 7.5 * 0.3048, farMetres: 2.7 }]);
    expect(bandOf(edited(["slack: 0.1", "empty: [[1m, 1.1m], [2m, 3m]]"]))?.empty).toEqual([{ nearMetres: 1, farMetres: 1.1 }, { nearMetres: 2, farMetres: 3 }]);
    expect(bandOf(edited(["slack: 0.1", "empty: [4.7, 4.7]"]))?.empty).toEqual([{ nearMetres: 4.7 * 0.3048, farMetres: 4.7 * 0.3048 }]);
  });

  it("are not said where the file does not", () => {
    expect(bandOf(edited())).not.toHaveProperty("empty");
  });
});
