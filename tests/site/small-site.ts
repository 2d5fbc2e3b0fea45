import { InputError } from "../../src/ground/problem.js";
import { parseSite } from "../../src/site/parse.js";

/** A small site file that is right; the tests break it in one place at a time. */
export const smallSite = `site: Heron Lane
timezone: Europe/London
home: { latitude: 50.0, longitude: -3.0 }
sources:
  log:
    files: exports/board-*.csv
    time: { column: stamp, written: iso }
    signal: channel
    value: reading
  phones:
    files: exports/phones.csv
    time: { column: When, written: "dd/MM/yyyy HH:mm:ss" }
    each: { phone-mira: Mira, place-tom: { latitude: lat, longitude: lon } }
bays: { bay-1: { vehicle: estate } }
doors: { gate: {} }
people: { mira: {}, tom: {} }
signals:
  overhead: { on: bay-1, source: log, channel: d1, kind: distance, unit: ft, present: [3.7, 4.7], slack: 0.1 }
  rail: { on: gate, source: log, channel: r1, kind: contact, open: 1, closed: 0 }
  phone-mira: { on: mira, source: phones, kind: phone, here: in, away: out }
  place-tom: { on: tom, source: phones, kind: position, radius: 150m }
rules:
  - name: unlock
    act: unlock
    when:
      all:
        - { signal: overhead, turned: occupied, within: 2min }
        - { signal: rail, is: open }
limits:
  unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min }
`;

/** The messages for a site file, one a problem; none when it is right. Anything but an `InputError` is thrown on. */
export function messagesFor(text: string): string[] {
  try {
    parseSite(text, "site.yaml", "/somewhere");
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.message.split("\n");
    throw error;
  }
}

/** The small site with some of its text replaced; each `from` must occur. */
export function edited(...edits: readonly (readonly [from: string, to: string])[]): string {
  let text = smallSite;
  for (const [from, to] of edits) {
    if (!text.includes(from)) throw new Error(`the small site has no ${JSON.stringify(from)}`);
    text = text.replace(from, () => to);
  }
  return text;
}
