import { IANAZone } from "luxon";
import { wallClockMs } from "./local-instant.js";
import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../ground/units.js";

/**
 * An ISO 8601 stamp taken apart. Reused from stamp to stamp, so that reading makes no object a row.
 * `wallMs`: what the clock showed (see {@link wallClockMs}); `offsetMs`: NaN where the stamp has none;
 * `leapSecond`: the stamp ended in :60 and `wallMs` is the start of the following second.
 */
export interface IsoStamp {
  wallMs: number;
  offsetMs: number;
  leapSecond: boolean;
  /** The zone named behind a stamp without offset; null for the usual one. */
  zone: string | null;
  /** The last date read, as yyyymmdd, and its midnight: stamps of one day come in thousands. */
  dayKey: number;
  dayMs: number;
}

/** An empty stamp for {@link readIsoStamp} to write into. */
export function emptyIsoStamp(): IsoStamp {
  return { wallMs: Number.NaN, offsetMs: Number.NaN, leapSecond: false, zone: null, dayKey: -1, dayMs: Number.NaN };
}

/**
 * Reads `yyyy-mm-dd`, `T`, `t` or a space, `hh:mm` or `hh:mm:ss`, a fraction after `.` or `,` (rounded to the millisecond),
 * then nothing (local), `Z`, an offset `±hh`, `±hhmm` or `±hh:mm`, or a zone `[Europe/London]` (`zone`). RFC 9557 suffixes
 * behind an offset are ignored, for the offset alone names the instant; a critical one (`[!…]`) makes the stamp unreadable.
 * The basic format (`yyyymmddThhmm`, `yyyymmddThhmmss`) is read like the extended one.
 * Second 60 is read as the start of the following second, its fraction dropped. Returns whether `text` was readable;
 * `into` means something only then.
 */
export function readIsoStamp(text: string, into: IsoStamp): boolean {
  if (text.length >= BASIC_LENGTH && (text.charCodeAt(8) | 0x20) === LOWER_T) {
    const extended = text.replace(/^(\d{4})(\d\d)(\d\d)[Tt](\d\d)(\d\d)(\d\d)?/, (_, y: string, mo: string, d: string, h: string, mi: string, s?: string) => `${y}-${mo}-${d}T${h}:${mi}${s === undefined ? "" : `:${s}`}`);
    return extended !== text && readIsoStamp(extended, into);
  }
  const hour = twoDigits(text, 11);
  const minute = twoDigits(text, 14);
  const separator = text.charCodeAt(10) | 0x20;
  if (hour > 23 || minute > 59 || hour < 0 || minute < 0 || text.charCodeAt(13) !== COLON) return false;
  if ((separator !== LOWER_T && separator !== SPACE) || !readDay(text, into)) return false;
  let at = 16;
  let secondsMs = 0;
  into.leapSecond = false;
  if (text.charCodeAt(at) === COLON) {
    const second = twoDigits(text, at + 1);
    if (second < 0 || second > 60) return false;
    at += 3;
    secondsMs = second * SECOND_MS;
    into.leapSecond = second === 60;
    const mark = text.charCodeAt(at);
    if (mark === POINT || mark === COMMA) {
      let fraction = 0;
      let scale = SECOND_MS;
      const start = ++at;
      for (let digit = digitAt(text, at); digit >= 0; digit = digitAt(text, ++at)) {
        scale /= 10;
        fraction += digit * scale;
      }
      if (at === start) return false;
      if (!into.leapSecond) secondsMs += Math.round(fraction);
    }
  }
  into.wallMs = into.dayMs + hour * HOUR_MS + minute * MINUTE_MS + secondsMs;
  into.offsetMs = Number.NaN;
  into.zone = null;
  return at === text.length || readOffset(text, at, into) || readZone(text, at, into);
}

/**
 * Whether an instant can follow a leap second: leap seconds are inserted before midnight UTC at the end of a month
 * (ITU-R TF.460, from memory; which months had one is announced, and not checked here).
 */
export function mayFollowLeapSecond(instant: number): boolean {
  return instant % DAY_MS === 0 && new Date(instant).getUTCDate() === 1;
}

/** `yyyymmddThhmm` */
const BASIC_LENGTH = 13;
const COLON = 0x3a;
const SPACE = 0x20;
const POINT = 0x2e;
const COMMA = 0x2c;
const HYPHEN = 0x2d;
const PLUS = 0x2b;
const LOWER_T = 0x74;
const LOWER_Z = 0x7a;

function digitAt(text: string, at: number): number {
  const digit = text.charCodeAt(at) - 0x30;
  return digit >= 0 && digit <= 9 ? digit : -1;
}

/** The number two digits make, or a negative number where they are not two digits. */
function twoDigits(text: string, at: number): number {
  const tens = digitAt(text, at);
  const ones = digitAt(text, at + 1);
  return tens < 0 || ones < 0 ? -1 : tens * 10 + ones;
}

function readDay(text: string, into: IsoStamp): boolean {
  const century = twoDigits(text, 0);
  const yearOfCentury = twoDigits(text, 2);
  const month = twoDigits(text, 5);
  const day = twoDigits(text, 8);
  if (century < 0 || yearOfCentury < 0 || month < 1 || month > 12 || day < 1) return false;
  if (text.charCodeAt(4) !== HYPHEN || text.charCodeAt(7) !== HYPHEN) return false;
  const year = century * 100 + yearOfCentury;
  const key = (year * 100 + month) * 100 + day;
  if (key === into.dayKey) return true;
  const dayMs = wallClockMs(year, month, day);
  // A day that the month does not have rolls over into the next.
  if (new Date(dayMs).getUTCDate() !== day) return false;
  into.dayKey = key;
  into.dayMs = dayMs;
  return true;
}

/** A zone's name behind a local time, as RFC 9557 writes it: `[Europe/London]`. */
function readZone(text: string, from: number, into: IsoStamp): boolean {
  const zone = /^\[!?([A-Za-z][\w+/-]*)\]$/.exec(text.slice(from))?.[1];
  if (zone === undefined || !IANAZone.isValidZone(zone)) return false;
  into.offsetMs = Number.NaN;
  into.zone = zone;
  return true;
}

function readOffset(text: string, from: number, into: IsoStamp): boolean {
  let at = text.charCodeAt(from) === SPACE ? from + 1 : from;
  const mark = text.charCodeAt(at);
  if ((mark | 0x20) === LOWER_Z) {
    into.offsetMs = 0;
    at++;
  } else if (mark === PLUS || mark === HYPHEN) {
    const hours = twoDigits(text, at + 1);
    at += 3;
    let minutes = 0;
    const hasColon = text.charCodeAt(at) === COLON;
    if (hasColon || digitAt(text, at) >= 0) {
      minutes = twoDigits(text, at + (hasColon ? 1 : 0));
      at += hasColon ? 3 : 2;
    }
    if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59) return false;
    into.offsetMs = (mark === HYPHEN ? -1 : 1) * (hours * HOUR_MS + minutes * MINUTE_MS);
  } else {
    return false;
  }
  return at === text.length || /^(?:\[[^[\]!]+\])+$/.test(text.slice(at));
}
