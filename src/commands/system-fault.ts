import type { ProblemParts } from "../ground/problem.js";
import { errorCode } from "./error-code.js";

/** What the system refuses although the input is right, and what to do about it. */
const faults: Readonly<Record<string, { readonly what: string; readonly mend: string }>> = {
  ENOSPC: { what: "There is no room left on the disk", mend: "make room there, or write elsewhere with --out" },
  EDQUOT: { what: "Your share of the disk is used up", mend: "make room there, or write elsewhere with --out" },
  EFBIG: { what: "The file would be larger than the system allows", mend: "raise the limit on file sizes (ulimit -f), or write to another disk with --out" },
  ENAMETOOLONG: { what: "The name is too long for the system", mend: "name a shorter path with --out, or give the site a shorter name" },
  EMFILE: { what: "Too many files are open", mend: "raise the limit (ulimit -n), or audit fewer sites at a time" },
  ENFILE: { what: "Too many files are open on this computer", mend: "close other programs, or try again later" },
  EACCES: { what: "You may not do this here", mend: "check the permissions of the file and of its folder, or name another place with --out" },
  EPERM: { what: "You may not do this here", mend: "check the permissions of the file and of its folder, or name another place with --out" },
  EROFS: { what: "Nothing can be written to this disk", mend: "write elsewhere with --out" },
  EIO: { what: "The disk reports an error", mend: "check the disk and its cable, and try again" },
  ENOMEM: { what: "The computer has no memory left", mend: "close other programs, or audit a shorter period with --month" },
  EAGAIN: { what: "The system gives no further threads or processes", mend: "close other programs, or raise the limit (ulimit -u)" },
  ENXIO: { what: "The disk or device is gone", mend: "connect it again" },
  ESTALE: { what: "The network folder is gone", mend: "connect it again" },
  ERR_WORKER_OUT_OF_MEMORY: { what: "The computer has no memory left for a thread that reads exports", mend: "close other programs, or give the exports in smaller files" },
};

/** Whether an error says that the system is short of something: no fault of the input, and none of the program. */
export function isSystemFault(error: unknown): boolean {
  return shortages.has(errorCode(error) ?? "");
}
const shortages: ReadonlySet<string> = new Set(["ENOSPC", "EDQUOT", "EFBIG", "ENAMETOOLONG", "EMFILE", "ENFILE", "EIO", "ENOMEM", "EAGAIN"]);

/** An error of the system in words: what, where, what to do. Null for all other errors. */
export function systemFault(error: unknown): ProblemParts | null {
  const code = errorCode(error);
  const fault = code === null ? undefined : faults[code];
  if (!(error instanceof Error) || code === null || fault === undefined) return null;
  const path = "path" in error && typeof error.path === "string" ? error.path : null;
  return { code: "system-fault", what: fault.what, file: path, found: code, mend: fault.mend };
}
