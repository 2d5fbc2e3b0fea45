import { describe, expect, test } from "vitest";
import { outagesOf, silencesOf } from "../../../src/truth/signals/silence.js";

const at = (...times: number[]): Float64Array => Float64Array.from(times);
const say = (...states: number[]): Uint8Array => Uint8Array.from(states);

describe("a silence", () => {
  test("is a gap of more than two and a half times what is expected, and not one of exactly that", () => {
    expect(silencesOf(at(0, 250, 501, 600), 100, 700)).toEqual([{ from: 250, to: 501 }]);
  });

  test("after the last reading never ends", () => {
    expect(silencesOf(at(0, 100), 100, 351)).toEqual([{ from: 100, to: Infinity }]);
    expect(silencesOf(at(0, 100), 100, 350)).toEqual([]);
  });

  test("is never told of a signal that only reports changes, nor of one that never spoke", () => {
    expect(silencesOf(at(0, 10_000), null, 1e6)).toEqual([]);
    expect(silencesOf(at(), 100, 1e6)).toEqual([]);
  });
});

describe("an outage", () => {
  test("begins exactly with a lost word, and with a silence at the last reading or up to one expected time later", () => {
    expect(outagesOf(at(0, 10, 20), say(1, 2, 1), null, 100)).toEqual([{ from: 10, darkBy: 10, to: 20, lost: true }]);
    expect(outagesOf(at(0, 400, 500), say(1, 1, 1), 100, 600)).toEqual([{ from: 0, darkBy: 100, to: 400, lost: false }]);
  });

  test("lasts until the signal knows again, through lost words and silences alike", () => {
    expect(outagesOf(at(0, 400, 410, 420), say(1, 2, 2, 0), 100, 500)).toEqual([{ from: 0, darkBy: 100, to: 420, lost: false }]);
    expect(outagesOf(at(0, 10, 400, 500), say(1, 2, 2, 0), 100, 600)).toEqual([{ from: 10, darkBy: 10, to: 500, lost: true }]);
    expect(outagesOf(at(0, 10), say(1, 2), null, 600)).toEqual([{ from: 10, darkBy: 10, to: Infinity, lost: true }]);
  });

  test("is not what was before a signal first knew: it did not go dark", () => {
    expect(outagesOf(at(0, 10), say(2, 1), null, 100)).toEqual([]);
  });

  test("of no length is none", () => {
    expect(outagesOf(at(0, 10, 10), say(1, 2, 1), null, 100)).toEqual([]);
  });
});
