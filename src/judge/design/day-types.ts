/** Weekdays and weekends: people keep other hours on them. */
export const dayTypes = ["w", "e"] as const;

/** How many days of a history (one letter each) are of the type. */
export function daysOfType(days: string, type: (typeof dayTypes)[number]): number {
  return Array.from(days).filter((one) => one === type).length;
}

/** How many days of a history count: all but those on which nobody was at home. */
export function keptDays(days: string): number {
  return dayTypes.reduce((sum, type) => sum + daysOfType(days, type), 0);
}
