/** Milliseconds in a second. */
export const SECOND_MS = 1_000;
/** Milliseconds in a minute. */
export const MINUTE_MS = 60_000;
/** Milliseconds in an hour. */
export const HOUR_MS = 3_600_000;
/** Milliseconds in a day of 24 hours. */
export const DAY_MS = 86_400_000;

/** Days in a mean year of the Julian calendar. */
export const DAYS_PER_YEAR = 365.25;
/** Milliseconds in a mean year. */
export const YEAR_MS = DAYS_PER_YEAR * DAY_MS;
/** Days in a month, wherever a rate is given per month. Our own choice: calendar months differ in length. */
export const DAYS_PER_MONTH = 30;
/** Milliseconds in a month of {@link DAYS_PER_MONTH}. */
export const MONTH_MS = DAYS_PER_MONTH * DAY_MS;
/** Months of {@link DAYS_PER_MONTH} in a mean year. */
export const MONTHS_PER_YEAR = DAYS_PER_YEAR / DAYS_PER_MONTH;

/** Hours in a day. */
export const HOURS_PER_DAY = 24;
/** Seconds in an hour. */
export const HOUR_SECONDS = 3_600;
/** Seconds in a minute. */
export const MINUTE_SECONDS = 60;
