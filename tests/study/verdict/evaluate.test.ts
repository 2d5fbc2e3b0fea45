import { describe, expect, it } from "vitest";
import { rightTimes, trulyOf } from "./evaluate.js";
import { following, overlaid } from "./steps.js";
import { HOUR, MINUTE, SECOND, type Rule, type Sensor, type Span, type Step, type World } from "./world.js";

const FROM = Date.UTC(2026, 2, 1);
const at = (hour: number, minute = 0, second = 0): number => FROM + hour * HOUR + minute * MINUTE + second * SECOND;

const unlock: Rule = {
  name: "unlock",
  act: "unlock",
  parts: [
    { form: "turned", anyOf: ["phone"], withinMs: 2 * MINUTE },
    { form: "turned", anyOf: ["gate"], withinMs: 2 * MINUTE },
  ],
  restMs: 5 * MINUTE,
  right: { form: "came", subjects: ["ana"], withinMs: 15 * MINUTE },
};

const lock: Rule = { name: "lock", act: "lock", parts: [{ form: "is", sensor: "phone", says: 0, heldMs: 5 * MINUTE }], restMs: 0, right: { form: "all off", subjects: ["ana"] } };

function sensor(id: string, steps: readonly Step[]): Sensor {
  return { id, on: "ana", source: id, kind: "flag", shares: [], everyMs: null, steps };
}

function world(home: readonly Span[], phone: readonly Step[], gate: readonly Step[], rule = unlock): World {
  const subjects = [{ id: "ana", class: "person" as const, on: home }];
  return { from: FROM, to: at(24), place: "household", subjects, sensors: [sensor("phone", phone), sensor("gate", gate)], diary: [], rule, tried: [], exporting: { overlapping: false, hoursOff: {} } };
}

/** Off, then on for ten seconds at each instant. */
function pulses(...instants: readonly number[]): Step[] {
  return [{ at: FROM, says: 0 }, ...instants.flatMap((one): Step[] => [{ at: one, says: 1 }, { at: one + 10 * SECOND, says: 0 }])];
}

const HOME: readonly Span[] = [{ from: at(9), to: at(12) }];

describe("what a rule truly did", () => {
  it("fires when both have turned, and is right when somebody had come", () => {
    expect(trulyOf(world(HOME, pulses(at(9, 1)), pulses(at(9))), unlock, 2 * MINUTE)).toEqual({ firings: 1, wrong: 0, wanted: 1, missedOrLate: 0 });
  });

  it("does not fire when the two are more than two minutes apart: the arrival is missed", () => {
    expect(trulyOf(world(HOME, pulses(at(9, 3)), pulses(at(9))), unlock, 2 * MINUTE)).toEqual({ firings: 0, wrong: 0, wanted: 1, missedOrLate: 1 });
  });

  it("calls a firing wrong when nobody had come for a quarter of an hour, nor comes within the limit", () => {
    expect(trulyOf(world(HOME, pulses(at(7), at(8, 58)), pulses(at(7), at(8, 59))), unlock, 2 * MINUTE)).toEqual({ firings: 2, wrong: 1, wanted: 1, missedOrLate: 0 });
    expect(trulyOf(world(HOME, pulses(at(9, 16)), pulses(at(9, 16))), unlock, 2 * MINUTE)).toEqual({ firings: 1, wrong: 1, wanted: 1, missedOrLate: 1 });
  });

  it("calls a firing nine minutes after the arrival right, and the arrival not served in time", () => {
    expect(trulyOf(world(HOME, pulses(at(9, 9)), pulses(at(9, 9))), unlock, 2 * MINUTE)).toEqual({ firings: 1, wrong: 0, wanted: 1, missedOrLate: 1 });
  });

  it("counts two firings within the rest as one", () => {
    expect(trulyOf(world([], pulses(at(7), at(7, 4)), pulses(at(7), at(7, 4))), unlock, 2 * MINUTE)).toMatchObject({ firings: 1, wrong: 1, wanted: 0 });
  });

  it("takes a phone that comes back from silence for no turn", () => {
    const phone = overlaid(following({ from: FROM, to: at(24) }, HOME, () => 0), { from: at(8), to: at(11) }, 2);
    expect(trulyOf(world(HOME, phone, pulses(at(11))), unlock, 2 * MINUTE)).toEqual({ firings: 0, wrong: 0, wanted: 1, missedOrLate: 1 });
  });

  it("locks rightly when all are away, and wrongly on somebody with a flat phone", () => {
    const home = [{ from: FROM, to: at(9) }, { from: at(12), to: at(24) }];
    const phone: Step[] = [{ at: FROM, says: 1 }, { at: at(9, 1), says: 0 }, { at: at(12), says: 1 }, { at: at(15), says: 0 }, { at: at(16), says: 1 }];
    expect(rightTimes(world(home, phone, []), lock)).toEqual([{ from: at(9), to: at(12) }]);
    expect(trulyOf(world(home, phone, [], lock), lock, 15 * MINUTE)).toEqual({ firings: 2, wrong: 1, wanted: 1, missedOrLate: 0 });
  });
});
