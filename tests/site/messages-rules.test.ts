import { describe, expect, it } from "vitest";
import { edited, messagesFor } from "./small-site.js";

// Each line: what is wrong, how the small site is broken, and the whole message with its place.
describe("messages about rules and conditions", () => {
  it.each<[string, [string, string][], string[]]>([
    [
      "two rules of one name",
      [["limits:", "  - { name: unlock, act: lock, when: { signal: rail, is: closed } }\nlimits:"]],
      ["site.yaml:29:13: Two rules are called \"unlock\". Expected a name of its own for each rule; found the first on line 23."],
    ],
    [
      "a misspelt act",
      [["act: unlock", "act: unlok"]],
      ["site.yaml:24:10: The value of rules › item 1 › act cannot be used. Expected unlock, lock, disarm or arm; found \"unlok\". To mend it: did you mean \"unlock\"?"],
    ],
    [
      "a condition on an unknown signal",
      [["signal: rail, is: open", "signal: rial, is: open"]],
      ["site.yaml:28:21: \"rial\" is not a signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean \"rail\"?"],
    ],
    [
      "a condition on a subject in place of a signal",
      [["signal: rail, is: open", "signal: gate, is: open"]],
      ["site.yaml:28:21: \"gate\" is not a signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: \"gate\" is a door: name a signal on it."],
    ],
    [
      "a subject in when",
      [["signal: rail, is: open", "subject: gate, is: open"]],
      ["site.yaml:28:13: \"subject\" does not belong in when. Expected a signal: a rule knows only what its sensors say. To mend it: write \"signal: NAME\"."],
    ],
    [
      "a signal in right_when",
      [["    when:", "    right_when: { signal: rail, is: open }\n    when:"]],
      ["site.yaml:25:19: \"signal\" does not belong in right_when. Expected a subject: what makes a firing right is what truly happened, not what a sensor said. To mend it: write \"subject: NAME\"."],
    ],
    [
      "an unknown subject in right_when",
      [["    when:", "    right_when: { subject: gat, is: open }\n    when:"]],
      ["site.yaml:25:28: \"gat\" is not a bay, door or person of this site. Expected one of bay-1, gate, mira, tom. To mend it: did you mean \"gate\"?"],
    ],
    [
      "a misspelt state",
      [["signal: rail, is: open", "signal: rail, is: opne"]],
      ["site.yaml:28:31: \"opne\" is not a state of \"rail\". Expected open or closed. To mend it: did you mean \"open\"?"],
    ],
    [
      "a state of another class",
      [["signal: rail, is: open", "signal: rail, is: occupied"]],
      ["site.yaml:28:31: \"occupied\" is not a state of \"rail\". Expected open or closed."],
    ],
    [
      "on for a signal that is no flag",
      [["signal: rail, is: open", "signal: rail, is: on"]],
      ["site.yaml:28:31: \"on\" is not a state of \"rail\". Expected open or closed."],
    ],
    [
      "an unknown state of a flag",
      [["signal: rail, is: open", "signal: rail, is: up"], ["kind: contact", "kind: flag"]],
      ["site.yaml:28:31: \"up\" is not a state of \"rail\". Expected open or closed, or on or off."],
    ],
    [
      "a state that a whole class does not have",
      [["signal: rail, is: open", "every: people, is: open"]],
      ["site.yaml:28:32: \"open\" is not a state of people. Expected here or away."],
    ],
    [
      "an unknown class",
      [["signal: rail, is: open", "every: persons, is: here"]],
      ["site.yaml:28:20: The value of rules › item 1 › when › all › item 2 › every cannot be used. Expected bays, doors, people or stirs; found \"persons\"."],
    ],
    [
      "a condition about nothing",
      [["signal: rail, is: open", "is: open"]],
      ["site.yaml:28:11: rules › item 1 › when › all › item 2 is not a condition. Expected exactly one of all, any, at_least, not, use, signal, subject, every, some; found a mapping with is."],
    ],
    [
      "two conditions in one",
      [["signal: rail, is: open", "signal: rail, is: open, not: { signal: rail, is: open }"]],
      ["site.yaml:28:11: rules › item 1 › when › all › item 2 mixes \"not\" and \"signal\" in one condition. Expected exactly one of all, any, at_least, not, use, signal, subject, every, some. To mend it: join them with all or any."],
    ],
    [
      "a condition without a state",
      [["signal: rail, is: open", "signal: rail"]],
      ["site.yaml:28:11: rules › item 1 › when › all › item 2 needs one of \"is\" and \"turned\". Expected \"is: STATE\" or \"turned: STATE\" with \"within: TIME\"; found neither."],
    ],
    [
      "both is and turned",
      [["signal: rail, is: open", "signal: rail, is: open, turned: open, within: 2min"]],
      ["site.yaml:28:11: rules › item 1 › when › all › item 2 needs one of \"is\" and \"turned\". Expected \"is: STATE\" or \"turned: STATE\" with \"within: TIME\"; found both."],
    ],
    [
      "within beside is",
      [["signal: rail, is: open", "signal: rail, is: open, within: 2min"]],
      ["site.yaml:28:37: \"within\" does not go with \"is\" in rules › item 1 › when › all › item 2. Expected held, recently or since."],
    ],
    [
      "both held and recently",
      [["signal: rail, is: open", "signal: rail, is: open, held: 2min, recently: 3min"]],
      ["site.yaml:28:49: rules › item 1 › when › all › item 2 has both \"held\" and \"recently\". Expected one of them; join two conditions with all for both."],
    ],
    [
      "held beside turned",
      [["turned: occupied, within: 2min", "turned: occupied, held: 2min"]],
      ["site.yaml:27:49: \"held\" does not go with \"turned\" in rules › item 1 › when › all › item 1. Expected within."],
    ],
    [
      "turned without within",
      [["turned: occupied, within: 2min", "turned: occupied"]],
      ["site.yaml:27:11: \"within\" is missing in rules › item 1 › when › all › item 1. Expected how long ago the change may be, such as 2min."],
    ],
    [
      "a change within no time",
      [["turned: occupied, within: 2min", "turned: occupied, within: 0s"]],
      ["site.yaml:27:57: rules › item 1 › when › all › item 1 can never be true: nothing changes within no time. Expected a duration above zero."],
    ],
    [
      "is beside all",
      [["signal: rail, is: open", "all: [{ signal: rail, is: open }], is: open"]],
      ["site.yaml:28:48: \"is\" does not go with \"all\" in rules › item 1 › when › all › item 2. Expected it only with signal, subject, every or some."],
    ],
    [
      "all of nothing",
      [["signal: rail, is: open", "all: []"]],
      ["site.yaml:28:13: The value of rules › item 1 › when › all › item 2 › all cannot be used. Expected a list of conditions, not empty; found an empty list."],
    ],
    [
      "all of no list",
      [["signal: rail, is: open", "all: { signal: rail, is: open }"]],
      ["site.yaml:28:13: The value of rules › item 1 › when › all › item 2 › all cannot be used. Expected a list of conditions; found a mapping with signal, is."],
    ],
    [
      "more than there are",
      [["signal: rail, is: open", "at_least: { count: 3, of: [{ signal: rail, is: open }, { signal: overhead, is: occupied }] }"]],
      ["site.yaml:28:32: rules › item 1 › when › all › item 2 › at_least can never be true: it asks for 3 of 2. Expected at most 2."],
    ],
    [
      "at least none",
      [["signal: rail, is: open", "at_least: { count: 0, of: [{ signal: rail, is: open }] }"]],
      ["site.yaml:28:32: The value of rules › item 1 › when › all › item 2 › at_least › count cannot be used. Expected a whole number, 1 or more; found \"0\"."],
    ],
    [
      "a class without members",
      [["signal: rail, is: open", "some: bays, is: empty"], ["bays: { bay-1: { vehicle: estate } }\n", ""], ["  overhead: { on: bay-1, source: log, channel: d1, kind: distance, unit: ft, present: [3.7, 4.7], slack: 0.1 }\n", ""], ["        - { signal: overhead, turned: occupied, within: 2min }\n", ""]],
      ["site.yaml:25:19: \"some: bays\" names nothing: the site has no bays. Expected one or more under bays."],
    ],
    [
      "an unknown named condition",
      [["signal: rail, is: open", "use: arrived"], ["rules:", "named: { arrival: { signal: rail, is: open } }\nrules:"]],
      ["site.yaml:29:18: \"arrived\" is not a named condition. Expected a name under named: arrival."],
    ],
    [
      "named conditions that use each other",
      [["rules:", "named:\n  a: { not: { use: b } }\n  b: { any: [{ use: a }, { signal: rail, is: open }] }\nrules:"]],
      [
        "site.yaml:23:20: The named condition \"b\" uses itself. Found b → a → b.",
        "site.yaml:24:21: The named condition \"a\" uses itself. Found a → b → a.",
      ],
    ],
    [
      "a mistake in a named condition that nothing uses",
      [["rules:", "named: { a: { signal: rial, is: open } }\nrules:"]],
      ["site.yaml:22:23: \"rial\" is not a signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean \"rail\"?"],
    ],
    [
      "a rule that can never fire",
      [["{ signal: rail, is: open }", "{ signal: rail, is: open }\n        - { signal: rail, is: closed, held: 2min }"]],
      ["site.yaml:25:5: The rule \"unlock\" can never fire. Found \"rail has been closed for 2 min\" and \"rail is open\", which exclude each other."],
    ],
    [
      "a rule that can never be right",
      [["    when:", "    right_when: { all: [{ subject: mira, is: here }, { every: people, is: away }] }\n    when:"]],
      ["site.yaml:25:5: The rule \"unlock\" can never be right. Found \"mira is away\" and \"mira is here\", which exclude each other."],
    ],
    [
      "a rule that nothing can judge",
      [["bays: { bay-1: { vehicle: estate } }\n", ""], ["people: { mira: {}, tom: {} }\n", ""], ["  overhead: { on: bay-1, source: log, channel: d1, kind: distance, unit: ft, present: [3.7, 4.7], slack: 0.1 }\n", ""], ["        - { signal: overhead, turned: occupied, within: 2min }\n", ""], ["  phone-mira: { on: mira, source: phones, kind: phone, here: in, away: out }\n  place-tom: { on: tom, source: phones, kind: position, radius: 150m }\n", ""], ["  phones:\n    files: exports/phones.csv\n    time: { column: When, written: \"dd/MM/yyyy HH:mm:ss\" }\n    each: { phone-mira: Mira, place-tom: { latitude: lat, longitude: lon } }\n", ""]],
      ["site.yaml:14:5: The rule \"unlock\" does not say what makes it right, and the site has no people or bays to judge it by. To mend it: add \"right_when\"."],
    ],
  ])("%s", (_, edits, messages) => expect(messagesFor(edited(...edits))).toEqual(messages));
});
