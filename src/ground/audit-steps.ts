/** The steps of an audit whose time is told, in the order in which they first come. Some come again for each rule. */
export const auditSteps = ["starting", "reading", "bringing together", "timelines", "reference", "comparing", "judging", "drills", "settings", "proposals", "questions", "months", "data", "pages"] as const;

/** One of the {@link auditSteps}. */
export type AuditStep = (typeof auditSteps)[number];
