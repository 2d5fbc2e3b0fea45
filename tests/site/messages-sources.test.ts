import { describe, expect, it } from "vitest";
import { edited, messagesFor } from "./small-site.js";

// Each line: what is wrong, how the small site is broken, and the whole message with its place.
describe("messages about sources", () => {
  it.each<[string, [string, string][], string[]]>([
    [
      "a misspelt time zone",
      [["Europe/London", "Europe/Lodnon"]],
      ["site.yaml:2:11: The time zone \"Europe/Lodnon\" is not known. Expected an IANA time zone such as Europe/London. To mend it: did you mean \"Europe/London\"?"],
    ],
    [
      "a time zone by its place only",
      [["written: iso", "written: iso, zone: berlin"]],
      ["site.yaml:7:48: The time zone \"berlin\" is not known. Expected an IANA time zone such as Europe/London. To mend it: did you mean \"Europe/Berlin\"?"],
    ],
    [
      "a time zone unlike any other",
      [["written: iso", "written: iso, zone: Middle of nowhere"]],
      ["site.yaml:7:48: The time zone \"Middle of nowhere\" is not known. Expected an IANA time zone such as Europe/London."],
    ],
    [
      "a pattern in another tool's letters",
      [["dd/MM/yyyy HH:mm:ss", "DD/MM/YYYY HH:mm:ss"]],
      ["site.yaml:12:36: The time pattern \"DD/MM/YYYY HH:mm:ss\" has the letter D, which is not a field (write dd). Expected iso, epoch-s, epoch-ms, ms-since, s-since, or a pattern such as dd/MM/yyyy HH:mm:ss."],
    ],
    [
      "a pattern with minutes for months and half a day of hours",
      [["dd/MM/yyyy HH:mm:ss", "dd/mm/yyyy hh:mm:ss"]],
      ["site.yaml:12:36: The time pattern \"dd/mm/yyyy hh:mm:ss\" does not say the month (write MM), nor whether it is morning or afternoon (write a, or HH for 24 hours). Expected iso, epoch-s, epoch-ms, ms-since, s-since, or a pattern such as dd/MM/yyyy HH:mm:ss."],
    ],
    [
      "a misspelt way of writing time",
      [["written: iso", "written: epoch_s"]],
      ["site.yaml:7:37: \"epoch_s\" is not a way to write time stamps. Expected iso, epoch-s, epoch-ms, ms-since, s-since, or a pattern such as dd/MM/yyyy HH:mm:ss. To mend it: did you mean \"epoch-s\"?"],
    ],
    [
      "a count without its start",
      [["written: iso", "written: ms-since"]],
      ["site.yaml:7:5: \"start\" is missing in sources › log › time. Expected the instant from which ms-since counts, such as 2026-10-01T06:00:00Z."],
    ],
    [
      "a start where nothing counts from it",
      [["written: iso", "written: iso, start: 2026-10-01T06:00:00Z"]],
      ["site.yaml:7:42: \"start\" in sources › log › time has no use. Expected it beside `written: ms-since` or `written: s-since` only."],
    ],
    [
      "a start that is no instant",
      [["written: iso", "written: s-since, start: last Monday"]],
      ["site.yaml:7:53: The start of the count is not one instant. Expected an instant in ISO 8601 such as 2026-10-01T06:00:00Z, or a local time that the clocks show once; found \"last Monday\"."],
    ],
    [
      "a start that the clocks showed twice",
      [["written: iso", "written: s-since, start: 2026-10-25T01:30"]],
      ["site.yaml:7:53: The start of the count is not one instant. Expected an instant in ISO 8601 such as 2026-10-01T06:00:00Z, or a local time that the clocks show once; found \"2026-10-25T01:30\"."],
    ],
    [
      "a wrong choice for skipped hours",
      [["written: iso", "written: iso, skipped_hour: shifted"]],
      ["site.yaml:7:56: The value of sources › log › time › skipped_hour cannot be used. Expected set-aside or shift; found \"shifted\"."],
    ],
    [
      "a delimiter of two characters",
      [["value: reading", "value: reading\n    delimiter: ;;"]],
      ["site.yaml:10:16: The delimiter of sources › log cannot be used. Expected one character, not a quote; or tab; found \";;\"."],
    ],
    [
      "a source without a layout",
      [["    signal: channel\n    value: reading\n", ""]],
      ["site.yaml:5:3: sources › log does not say which columns its readings are in. Expected either `signal` and `value` (a reading a row) or `each` (a column a signal)."],
    ],
    [
      "a source without a value column",
      [["    value: reading\n", ""]],
      ["site.yaml:5:3: \"value\" is missing in sources › log. Expected the column with the value; for positions `latitude` and `longitude`."],
    ],
    [
      "a source with both layouts",
      [["    each:", "    signal: who\n    each:"]],
      ["site.yaml:13:5: sources › phones has both \"each\" and \"signal\". Expected either `signal` and `value` (a reading a row) or `each` (a column a signal)."],
    ],
    [
      "a latitude without a longitude",
      [["value: reading", "value: reading\n    latitude: lat"]],
      ["site.yaml:10:5: \"longitude\" is missing in sources › log. Expected a column each for latitude and longitude."],
    ],
    [
      "a cell that is both missing and lost",
      [["value: reading", "value: reading\n    missing: [x, gone]\n    lost: gone"]],
      ["site.yaml:11:5: The cell \"gone\" is both missing and lost in sources › log. To mend it: keep it in one of the two lists."],
    ],
    [
      "a wide source without columns",
      [["each: { phone-mira: Mira, place-tom: { latitude: lat, longitude: lon } }", "each: {}"]],
      [
        "site.yaml:13:5: sources › phones › each is empty. Expected at least one signal with its column.",
        "site.yaml:20:3: The source \"phones\" has no column for the signal \"phone-mira\". To mend it: add \"phone-mira\" with its column under sources › phones › each.",
        "site.yaml:21:3: The source \"phones\" has no column for the signal \"place-tom\". To mend it: add \"place-tom\" with its column under sources › phones › each.",
      ],
    ],
    [
      "a column for an unknown signal",
      [["phone-mira: Mira,", "phone-mria: Mira,"]],
      [
        "site.yaml:13:13: \"phone-mria\" is not a signal. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean \"phone-mira\"?",
        "site.yaml:20:3: The source \"phones\" has no column for the signal \"phone-mira\". To mend it: add \"phone-mira\" with its column under sources › phones › each.",
      ],
    ],
    [
      "a column for a signal of another source",
      [["each: {", "each: { rail: Rail,"]],
      ["site.yaml:13:13: The signal \"rail\" has a column in the source \"phones\", but its own source is \"log\". To mend it: give the signal \"source: phones\", or take the column out."],
    ],
    [
      "two columns for a signal that needs one",
      [["phone-mira: Mira", "phone-mira: { latitude: a, longitude: b }"]],
      ["site.yaml:20:3: The source \"phones\" gives the phone signal \"phone-mira\" two columns. Expected a column for the value."],
    ],
    [
      "one column for a position",
      [["place-tom: { latitude: lat, longitude: lon }", "place-tom: lat"]],
      ["site.yaml:21:3: The source \"phones\" gives the position signal \"place-tom\" one column. Expected columns for latitude and longitude."],
    ],
    [
      "a list of lists for a column",
      [["phone-mira: Mira", "phone-mira: [[Mira]]"]],
      ["site.yaml:13:26: The value of sources › phones › each › phone-mira › item 1 cannot be used. Expected a column's name; found a list of 1."],
    ],
    [
      "half of a position's columns",
      [["place-tom: { latitude: lat, longitude: lon }", "place-tom: { latitude: lat }"]],
      ["site.yaml:13:31: \"longitude\" is missing in sources › phones › each › place-tom. Expected a column's name."],
    ],
    [
      "two signals on one column",
      [["kind: position, radius: 150m", "kind: phone, here: in, away: out"], ["place-tom: { latitude: lat, longitude: lon }", "place-tom: Mira"]],
      ["site.yaml:13:31: The signals \"phone-mira\" and \"place-tom\" read the same column of \"phones\". Expected one signal for each: one sensor must not count as two."],
    ],
    [
      "two signals on one channel",
      [["channel: r1", "channel: d1"]],
      ["site.yaml:19:34: The signals \"overhead\" and \"rail\" read the same channel of \"log\". Expected one signal for each: one sensor must not count as two."],
    ],
    [
      "a missing channel",
      [["channel: r1, ", ""]],
      ["site.yaml:19:3: \"channel\" is missing in signals › rail. Expected what stands in the column \"channel\" of \"log\" for this signal."],
    ],
    [
      "a channel where each signal has a column",
      [["kind: phone", "kind: phone, channel: x"]],
      ["site.yaml:20:56: The signal \"phone-mira\" needs no channel: its source \"phones\" has a column a signal. To mend it: take \"channel\" out."],
    ],
  ])("%s", (_, edits, messages) => expect(messagesFor(edited(...edits))).toEqual(messages));
});
