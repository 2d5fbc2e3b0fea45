import { closestName } from "./closest-name.js";

/** The zone that was probably meant: a small slip, or only the place's name (`London`); null when none is close. */
export function closestTimeZone(written: string): string | null {
  const zones = Intl.supportedValuesOf("timeZone");
  const byPlace = zones.find((zone) => zone.split("/").at(-1)?.toLowerCase() === written.trim().toLowerCase().replaceAll(" ", "_"));
  return byPlace ?? closestName(written, zones);
}
