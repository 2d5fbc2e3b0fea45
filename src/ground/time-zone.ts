/** Whether this machine's time zone tables know the zone (an IANA name such as `Europe/London`, or `UTC`). */
export function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
