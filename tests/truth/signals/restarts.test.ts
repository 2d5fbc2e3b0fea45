import { describe, expect, test } from "vitest";
import { knownInstants, type KnownInstants } from "../../../src/truth/signals/known-instants.js";
import { restartsOf, returnOf, type Speaker } from "../../../src/truth/signals/restarts.js";
import { readingsOf } from "../../intake/packed.js";
import { outagesOf } from "../../../src/truth/signals/silence.js";
import { MINUTE, SECOND, every } from "./small-site.js";

const RESTART = 5 * SECOND;
const EXPECT = 3 * MINUTE;
const END = 600 * MINUTE;

/** A signal that was known at these instants. */
function knownAt(times: Float64Array): KnownInstants {
  return knownInstants(readingsOf("s", Array.from(times, (at) => [at, 1])));
}

/** A meter that publishes every three minutes, at its own second, but for the stretch in which nothing got through. */
function meterSpeaker(offset: number, darkFrom: number, darkTo: number): Speaker {
  const known = every(EXPECT, offset, END, 1).filter(([at]) => at < darkFrom || at >= darkTo);
  const times = Float64Array.from(known, ([at]) => at);
  return { known: knownAt(times), outages: outagesOf(times, new Uint8Array(times.length), EXPECT, END), expectMs: EXPECT };
}

/** A signal that only reports changes; NaN is a lost word. */
function changeSpeaker(...rows: readonly (readonly [number, number])[]): Speaker {
  const times = Float64Array.from(rows, ([at]) => at);
  const states = Uint8Array.from(rows, ([, value]) => (Number.isNaN(value) ? 2 : value));
  return { known: knownAt(times.filter((_, i) => states[i] !== 2)), outages: outagesOf(times, states, null, END), expectMs: null };
}

describe("signals that go dark together", () => {
  test("are one restart when they say so within the restart time, two of them are none", () => {
    const lost = [0, 2, 5].map((s) => changeSpeaker([0, 1], [MINUTE + s * SECOND, NaN], [2 * MINUTE + s * SECOND, 1]));
    expect(restartsOf(lost, RESTART)).toEqual([{ from: MINUTE, firstReturn: 2 * MINUTE, to: 2 * MINUTE + 5 * SECOND }]);
    expect(restartsOf(lost.slice(0, 2), RESTART)).toEqual([]);
  });

  test("are none when they say so, and come back, further apart", () => {
    const lost = [0, 3, 6].map((s) => changeSpeaker([0, 1], [MINUTE + s * SECOND, NaN], [2 * MINUTE + s * MINUTE, 1]));
    expect(restartsOf(lost, RESTART)).toEqual([]);
  });

  test("are none when one signal goes dark three times", () => {
    const blinking = changeSpeaker([0, 1], [1000, NaN], [1500, 1], [2000, NaN], [2500, 1], [3000, NaN], [3500, 1]);
    expect(restartsOf([blinking, changeSpeaker([0, 1]), changeSpeaker([0, 1])], RESTART)).toEqual([]);
  });

  test("are one restart though each meter's last reading was at another second of the three minutes", () => {
    const [darkFrom, darkTo] = [60 * MINUTE, 72 * MINUTE];
    const meters = [0, 50, 110].map((s) => meterSpeaker(s * SECOND, darkFrom, darkTo));
    // The cause was alive at the latest of the last readings; it is alive again with the first reading after.
    const from = 57 * MINUTE + 110 * SECOND;
    expect(restartsOf(meters, RESTART)).toEqual([{ from, firstReturn: darkTo, to: darkTo }]);
  });

  test("are none when the silences lie further apart than one reading is from the next", () => {
    const meters = [60, 64, 68].map((m) => meterSpeaker(0, m * MINUTE, m * MINUTE + 30 * MINUTE));
    expect(restartsOf(meters, RESTART)).toEqual([]);
  });

  test("make short restarts only, at either end of their outage, when others of the same cause go on speaking", () => {
    const meters = [0, 0, 0].map((s) => meterSpeaker(s * SECOND, 60 * MINUTE, 300 * MINUTE));
    const speaking = meterSpeaker(MINUTE, 0, 0);
    expect(restartsOf([...meters, speaking], RESTART)).toEqual([
      { from: 57 * MINUTE, firstReturn: 58 * MINUTE, to: 58 * MINUTE },
      { from: 298 * MINUTE, firstReturn: 300 * MINUTE, to: 300 * MINUTE },
    ]);
  });

  test("make a restart without end when nothing of the cause is ever heard again", () => {
    const meters = [0, 10, 20].map((s) => meterSpeaker(s * SECOND, 60 * MINUTE, END));
    const [restart] = restartsOf(meters, RESTART);
    expect(restart).toEqual({ from: 57 * MINUTE + 20 * SECOND, firstReturn: Infinity, to: Infinity });
    expect(returnOf(changeSpeaker([0, 1]), restart!)).toBe(Infinity);
  });

  test("are back with the last of those that return within the restart time, whatever becomes of the rest", () => {
    const [first, second, third] = [0, 4 * SECOND, 90 * MINUTE].map((later) => changeSpeaker([0, 1], [MINUTE, NaN], [2 * MINUTE + later, 1]));
    expect(restartsOf([first!, second!, third!], RESTART)).toEqual([{ from: MINUTE, firstReturn: 2 * MINUTE, to: 2 * MINUTE + 4 * SECOND }]);
  });

  test("are one restart with the next where the one ends at the instant at which the other begins", () => {
    const first = [0, 1, 2].map(() => changeSpeaker([0, 1], [MINUTE, NaN], [2 * MINUTE, 1]));
    const second = [0, 1, 2].map(() => changeSpeaker([0, 1], [2 * MINUTE, NaN], [3 * MINUTE, 1]));
    expect(restartsOf([...first, ...second], RESTART)).toEqual([{ from: MINUTE, firstReturn: 3 * MINUTE, to: 3 * MINUTE }]);
  });

  test("make a restart that reaches into each outage it explains, be it over before the last of them began", () => {
    // Silent from 0 to 30 s, from 35 s, from 60 s: within a long restart time of one another, yet not at one time.
    const quick = [[0, 30], [35, 100], [60, 100]].map(([from, to]): Speaker => {
      const known = knownAt(Float64Array.of(from! * SECOND, to! * SECOND));
      return { known, outages: [{ from: from! * SECOND, darkBy: (from! + 10) * SECOND, to: to! * SECOND, lost: false }], expectMs: 10 * SECOND };
    });
    const [restart] = restartsOf(quick, MINUTE);
    for (const { outages } of quick) expect(restart!.from < outages[0]!.to && restart!.to > outages[0]!.from).toBe(true);
  });
});

describe("signals that come back together", () => {
  test("are one restart, though the hub gave them up one after another", () => {
    const givenUp = [0, 20, 40].map((s) => changeSpeaker([0, 1], [MINUTE + s * SECOND, NaN], [5 * MINUTE + s * 100, 1]));
    expect(restartsOf(givenUp, RESTART)).toEqual([{ from: MINUTE + 40 * SECOND, firstReturn: 5 * MINUTE, to: 5 * MINUTE + 4 * SECOND }]);
  });

  test("do not make the restart as long as the outage of the one that had been dead for long", () => {
    const dead = changeSpeaker([0, 1], [MINUTE, NaN], [500 * MINUTE, 1]);
    const others = [0, 20].map((s) => changeSpeaker([0, 1], [490 * MINUTE + s * SECOND, NaN], [500 * MINUTE, 1]));
    expect(restartsOf([dead, ...others], RESTART)).toEqual([{ from: 490 * MINUTE + 20 * SECOND, firstReturn: 500 * MINUTE, to: 500 * MINUTE }]);
  });

  test("were dark since another signal of the cause last spoke", () => {
    const dead = [1, 20, 40].map((m) => changeSpeaker([0, 1], [m * MINUTE, NaN], [500 * MINUTE, 1]));
    const speaking = changeSpeaker([0, 0], [450 * MINUTE, 1]);
    expect(restartsOf([...dead, speaking], RESTART)).toEqual([{ from: 450 * MINUTE, firstReturn: 500 * MINUTE, to: 500 * MINUTE }]);
  });

  test("are none when one of them went dark only after the first was back", () => {
    const two = [0, 1].map((s) => changeSpeaker([0, 1], [MINUTE + s * 30 * SECOND, NaN], [5 * MINUTE, 1]));
    const late = changeSpeaker([0, 1], [5 * MINUTE + SECOND, NaN], [5 * MINUTE + 2 * SECOND, 1]);
    expect(restartsOf([...two, late], RESTART)).toEqual([]);
  });
});

describe("a signal's own return", () => {
  const restart = { from: 60 * MINUTE, firstReturn: 70 * MINUTE, to: 70 * MINUTE + 4 * SECOND };

  test("is the restart's end when it spoke by then, and its first word when that comes soon after", () => {
    expect(returnOf(changeSpeaker([0, 1], [70 * MINUTE + SECOND, 0]), restart)).toBe(restart.to);
    expect(returnOf(changeSpeaker([0, 1], [restart.to + MINUTE, 0]), restart)).toBe(restart.to + MINUTE);
  });

  test("is the restart's end when it only reports changes and has nothing to say", () => {
    expect(returnOf(changeSpeaker([0, 1]), restart)).toBe(restart.to);
    expect(returnOf(changeSpeaker([0, 1], [restart.to + MINUTE + 1, 0]), restart)).toBe(restart.to);
  });

  test("is the next reading of a periodic signal, and the end of the restart where silence takes over", () => {
    expect(returnOf(meterSpeaker(2 * MINUTE, 60 * MINUTE, 70 * MINUTE), restart)).toBe(71 * MINUTE);
    expect(returnOf(meterSpeaker(0, 60 * MINUTE, 300 * MINUTE), restart)).toBe(restart.to);
  });
});
