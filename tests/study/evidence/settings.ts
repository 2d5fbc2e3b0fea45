/** Two artificial parts under every condition that the bounds are used in, and under some that they must not be used in. */
import { between, instantsEvenly, type Chance } from "../verdict/random.js";
import { DAY_SECONDS, merged, MONTH_DAYS, together, weekLetters, type Made, type Pulse } from "./pulses.js";
import { byClockPerYear, counted, whileHomePerYear, type ByClock } from "./truth.js";
import { chanceNamed } from "../verdict/random.js";

const HOUR = 3_600;
/** One report keeps each part on so long, in seconds. */
const WINDOWS = [120, 600] as const;

/** A true rate, and where it comes from. */
export interface Truth {
  readonly perYear: number;
  readonly from: string;
}

/** One way in which faults of two parts may come about. */
export interface Setting {
  readonly id: string;
  readonly name: string;
  readonly truly: string;
  /** Why a bound does not hold here; null where all its conditions are met. */
  readonly evenFails: string | null;
  readonly clockFails: string | null;
  /** The common cause is part of what happens: the bound with its term is what counts. */
  readonly common: boolean;
  make(chance: Chance, days: number): Made;
  truth(): Truth;
}

const SHARED_HOURS = "both share hours";

/** Pulses that come independently, evenly or with a share of them in one stretch of the day. */
function pulsesByClock(chance: Chance, days: number, { perDay, seconds, hours }: ByClock): Pulse[] {
  return instantsEvenly(chance, 0, days * DAY_SECONDS, perDay * days).map((at) => {
    if (hours === null || chance() >= hours.share) return pulse(at, seconds);
    return pulse(Math.floor(at / DAY_SECONDS) * DAY_SECONDS + between(chance, hours.from, hours.to), seconds);
  });
}

function pulse(at: number, seconds: number, explained = false): Pulse {
  return { at, seconds, explained };
}

function perMonth(count: number, seconds: number, hours: ByClock["hours"] = null): ByClock {
  return { perDay: count / MONTH_DAYS, seconds, hours };
}

/** Both parts by the clock. */
function clockSetting(id: string, name: string, truly: string, rare: number, hours: ByClock["hours"]): Setting {
  const parts = [perMonth(rare, WINDOWS[0], hours), perMonth(24, WINDOWS[1], hours)] as const;
  return {
    id,
    name,
    truly,
    evenFails: hours === null ? null : SHARED_HOURS,
    clockFails: null,
    common: false,
    make: (chance, days) => ({ pulses: [pulsesByClock(chance, days, parts[0]), pulsesByClock(chance, days, parts[1])], windows: WINDOWS, days: weekLetters(days), homeShare: 1 }),
    truth: () => ({ perYear: byClockPerYear(...parts), from: "closed form" }),
  };
}

const TWO_HOURS = { from: 17 * HOUR, to: 19 * HOUR, share: 0.7 };
const ONE_MINUTE = { from: 3 * HOUR, to: 3 * HOUR + 60, share: 0.7 };

/** Four to seven pulses within four hours, each clump by itself. */
function clumps(chance: Chance, days: number, count: number, seconds: number): Pulse[] {
  const starts = instantsEvenly(chance, -4 * HOUR, days * DAY_SECONDS, ((count / MONTH_DAYS) * (days + 4 / 24)) / 5.5);
  return starts.flatMap((start) => Array.from({ length: 4 + Math.floor(chance() * 4) }, () => pulse(start + between(chance, 0, 4) * HOUR, seconds))).filter(({ at }) => at >= 0 && at < days * DAY_SECONDS);
}

/** Counted over a long run of the generator itself. */
function longRun(id: string, make: Setting["make"], years: number, apart: boolean): Truth {
  const { bothPerYear, apartPerYear } = counted((days, year) => make(chanceNamed(`${id}/truth/${year}`), days), years);
  const text = years.toLocaleString("en");
  return apart ? { perYear: apartPerYear, from: `each part over ${text} simulated years` } : { perYear: bothPerYear, from: `${text} simulated years` };
}

function simulated(setting: Omit<Setting, "truth">, years: number, apart = false): Setting {
  return { ...setting, truth: () => longRun(setting.id, setting.make.bind(setting), years, apart) };
}

const bursts = simulated(
  {
    id: "bursts",
    name: "bursts, 3 and 24 a month",
    truly: "Faults of each part come in clumps of four to seven within four hours, each part by itself.",
    evenFails: null,
    clockFails: null,
    common: false,
    make: (chance, days) => ({ pulses: [clumps(chance, days, 3, WINDOWS[0]), clumps(chance, days, 24, WINDOWS[1])], windows: WINDOWS, days: weekLetters(days), homeShare: 1 }),
  },
  10_000,
  true,
);

const HOME_HOURS = 16;
/** A week without anybody, of those seen. */
const EMPTY_WEEKS = 0.6;

const emptyWeeks: Setting = {
  id: "empty-weeks",
  name: "empty weeks, 3 and 24 a month",
  truly: "Nobody is home in 60 % of weeks (left out) and for eight hours of each other day, beginning between six and two; faults come only while somebody is.",
  evenFails: null,
  clockFails: null,
  common: false,
  make: (chance, days) => {
    const empty = Array.from({ length: Math.ceil(days / 7) }, () => chance() < EMPTY_WEEKS);
    const leaves = Array.from({ length: days }, () => between(chance, 6, 14) * HOUR);
    const home = ({ at }: Pulse): boolean => {
      const day = Math.floor(at / DAY_SECONDS);
      const since = at - day * DAY_SECONDS - leaves[day]!;
      return empty[Math.floor(day / 7)] === false && (since < 0 || since >= (24 - HOME_HOURS) * HOUR);
    };
    const part = (count: number, seconds: number): Pulse[] => pulsesByClock(chance, days, perMonth((count * 24) / HOME_HOURS, seconds)).filter(home);
    const letters = Array.from(weekLetters(days), (letter, day) => (empty[Math.floor(day / 7)] === true ? "x" : letter)).join("");
    return { pulses: [part(3, WINDOWS[0]), part(24, WINDOWS[1])], windows: WINDOWS, days: letters, homeShare: HOME_HOURS / 24 };
  },
  truth: () => ({ perYear: whileHomePerYear(perMonth(3, WINDOWS[0]), perMonth(24, WINDOWS[1]), HOME_HOURS * HOUR), from: "closed form, a year of days with somebody home" }),
};

const BAD_DAYS = 0.05;
const ON_BAD_DAYS = 0.8;

const badDays: Setting = {
  id: "bad-days",
  name: "shared bad days, 3 and 24 a month",
  truly: "80 % of both parts' faults come on the same 5 % of days.",
  evenFails: "the same bad days",
  clockFails: "the same bad days",
  common: false,
  make: (chance, days) => {
    const bad = Array.from({ length: days }, () => chance() < BAD_DAYS);
    const most = ON_BAD_DAYS / BAD_DAYS;
    const least = (1 - ON_BAD_DAYS) / (1 - BAD_DAYS);
    const part = (count: number, seconds: number): Pulse[] => pulsesByClock(chance, days, perMonth(most * count, seconds)).filter(({ at }) => bad[Math.floor(at / DAY_SECONDS)] === true || chance() < least / most);
    return { pulses: [part(3, WINDOWS[0]), part(24, WINDOWS[1])], windows: WINDOWS, days: weekLetters(days), homeShare: 1 };
  },
  truth: () => {
    const of = (factor: number): number => byClockPerYear(perMonth(3 * factor, WINDOWS[0]), perMonth(24 * factor, WINDOWS[1]));
    return { perYear: BAD_DAYS * of(ON_BAD_DAYS / BAD_DAYS) + (1 - BAD_DAYS) * of((1 - ON_BAD_DAYS) / (1 - BAD_DAYS)), from: "closed form" };
  },
};

const VISITS = 2;
const VISITS_SEEN = 0.5;

const visitor = simulated(
  {
    id: "visitor",
    name: "a visitor moves both parts, 3 and 24 a month",
    truly: "Besides, a visitor moves both parts within a minute twice a month; two references see every other visit.",
    evenFails: "a true event moves both",
    clockFails: "a true event moves both",
    common: false,
    make: (chance, days) => {
      const visits = instantsEvenly(chance, 0, days * DAY_SECONDS, (VISITS * days) / MONTH_DAYS).map((at) => ({ at, explained: chance() < VISITS_SEEN, later: between(chance, 0, 60) }));
      return {
        pulses: [
          [...pulsesByClock(chance, days, perMonth(3, WINDOWS[0])), ...visits.map(({ at, explained }) => pulse(at, WINDOWS[0], explained))],
          [...pulsesByClock(chance, days, perMonth(24, WINDOWS[1])), ...visits.map(({ at, explained, later }) => pulse(at + later, WINDOWS[1], explained))],
        ],
        windows: WINDOWS,
        days: weekLetters(days),
        homeShare: 1,
      };
    },
  },
  10_000,
);

/** What the site file states, or what is taken without a statement. */
export const STATED_SHARE = 0.1;

function commonCause(id: string, share: number, words: string): Setting {
  return simulated(
    {
      id,
      name: `common cause ${words} the stated one, 3 and 24 a month`,
      truly: `${share * 100} % of the rarer part's faults reach the other part within half a minute; ${STATED_SHARE * 100} % are stated.`,
      evenFails: "a common cause, without its term",
      clockFails: share > STATED_SHARE ? "more than stated" : null,
      common: true,
      make: (chance, days) => {
        const rare = pulsesByClock(chance, days, perMonth(3, WINDOWS[0]));
        const reached = rare.filter(() => chance() < share).map(({ at }) => pulse(at + between(chance, 0, 30), WINDOWS[1]));
        return { pulses: [rare, [...pulsesByClock(chance, days, perMonth(24, WINDOWS[1])), ...reached]], windows: WINDOWS, days: weekLetters(days), homeShare: 1 };
      },
    },
    10_000,
  );
}

const threeParts = simulated(
  {
    id: "three-parts",
    name: "three parts, two of them dependent",
    truly: "A meter (6 a month, 120 s) and a door (24, 600 s) lie by themselves, and three times a month together; the two as one part that is on while both are, against phones (24, 600 s).",
    evenFails: null,
    clockFails: null,
    common: false,
    make: (chance, days) => {
      const causes = instantsEvenly(chance, 0, days * DAY_SECONDS, (3 * days) / MONTH_DAYS);
      const meter = [...pulsesByClock(chance, days, perMonth(6, 120)), ...causes.map((at) => pulse(at, 120))];
      const door = [...pulsesByClock(chance, days, perMonth(24, 600)), ...causes.map((at) => pulse(at + between(chance, 0, 20), 600))];
      return { pulses: [together(merged(meter), merged(door)), pulsesByClock(chance, days, perMonth(24, 600))], windows: WINDOWS, days: weekLetters(days), homeShare: 1 };
    },
  },
  10_000,
  true,
);

/** Every setting of the study, in the order of its table. */
export const settings: readonly Setting[] = [
  clockSetting("even-rare", "even, 0.5 and 24 a month", "Faults come at any time, each part by itself.", 0.5, null),
  clockSetting("even", "even, 3 and 24 a month", "The same with more faults.", 3, null),
  clockSetting("two-hours-rare", "the same two hours, 0.5 and 24 a month", "70 % of both parts' faults come between 17 and 19 h, on days of their own.", 0.5, TWO_HOURS),
  clockSetting("two-hours", "the same two hours, 3 and 24 a month", "The same with more faults.", 3, TWO_HOURS),
  clockSetting("minute-rare", "the same minute, 0.5 and 24 a month", "70 % of both parts' faults come between 3:00 and 3:01, on days of their own.", 0.5, ONE_MINUTE),
  clockSetting("minute", "the same minute, 3 and 24 a month", "The same with more faults.", 3, ONE_MINUTE),
  bursts,
  emptyWeeks,
  threeParts,
  commonCause("cause-below", 0.02, "below"),
  commonCause("cause-at", 0.1, "at"),
  commonCause("cause-above", 0.3, "above"),
  badDays,
  visitor,
];
