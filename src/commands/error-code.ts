/** The code of an error of the system, such as `ENOENT`; null for all others. */
export function errorCode(error: unknown): string | null {
  return error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : null;
}
