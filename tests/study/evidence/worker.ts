/** A thread of the study: is handed one question after another, and answers each. */
import { parentPort } from "node:worker_threads";
import { countedHomes, countedYear, type CountedYear } from "./counted-homes.js";
import { households, householdTruth, householdYear, type HouseholdYear } from "./households.js";
import { looksAt, type Look } from "./run-setting.js";
import { settings, type Truth } from "./settings.js";

/** What a thread is asked: `from` to before `to` are histories, or years of a household. */
export type Asked =
  | { readonly about: "truth"; readonly id: string }
  | { readonly about: "household truth"; readonly id: string }
  | { readonly about: "histories"; readonly id: string; readonly from: number; readonly to: number; readonly everyMonthBefore: number }
  | { readonly about: "household" | "counted"; readonly id: string; readonly from: number; readonly to: number };

/** What it answers. */
export type Answered =
  | { readonly about: "truth"; readonly id: string; readonly truth: Truth }
  | { readonly about: "histories"; readonly id: string; readonly from: number; readonly looks: readonly (readonly Look[])[] }
  | { readonly about: "household"; readonly id: string; readonly from: number; readonly years: readonly HouseholdYear[] }
  | { readonly about: "counted"; readonly id: string; readonly from: number; readonly counted: readonly CountedYear[] };

/** Answers one question; the same question always gets the same answer. */
export async function answerTo(asked: Asked): Promise<Answered> {
  const { id } = asked;
  const [setting, household, home] = [settings.find((one) => one.id === id), households.find((one) => one.id === id), countedHomes.find((one) => one.id === id)];
  if (asked.about === "truth") return { about: "truth", id, truth: setting!.truth() };
  if (asked.about === "household truth") return { about: "truth", id, truth: { perYear: householdTruth((household ?? home)!), from: "simulated years" } };
  const numbers = Array.from({ length: asked.to - asked.from }, (_, i) => asked.from + i);
  if (asked.about === "histories") return { about: "histories", id, from: asked.from, looks: numbers.map((history) => looksAt(setting!, history, history < asked.everyMonthBefore)) };
  if (asked.about === "counted") {
    const counted: CountedYear[] = [];
    for (const year of numbers) counted.push(await countedYear(home!, year));
    return { about: "counted", id, from: asked.from, counted };
  }
  const years: HouseholdYear[] = [];
  for (const year of numbers) years.push(await householdYear(household!, year));
  return { about: "household", id, from: asked.from, years };
}

parentPort?.on("message", (asked: Asked) => void answerTo(asked).then((answer) => parentPort?.postMessage(answer)));
