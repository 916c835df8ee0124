import type { CallName, Calls } from "#core/contract/calls.ts";

type WriteName = { [N in CallName]: Calls[N]["kind"] extends "write" ? N : never }[CallName];

const REGISTERS: readonly CallName[] = ["bench.status", "bench.overview", "trail.page"];
const CALIBRATIONS: readonly CallName[] = [
  "bench.overview",
  "calibrations.list",
  "calibrations.get",
  "trail.page",
];
// Not sheets.get or rows.page: the entry grid keeps its own rows and would fetch them again on every key.
const ROWS: readonly CallName[] = ["sheets.list", "bench.overview", "trail.page"];

/** Which reads are out of date after which act. A read that is not listed stays as it was fetched. */
const changes: Readonly<Partial<Record<CallName, readonly CallName[]>>> = {
  "people.register": [...REGISTERS, "people.list"],
  "people.choose": ["bench.status", "trail.page"],
  "microscopes.register": [...REGISTERS, "microscopes.list"],
  "microscopes.addObjective": [...REGISTERS, "microscopes.list"],
  "microscopes.addEyepiece": [...REGISTERS, "microscopes.list"],
  "micrometers.register": [...REGISTERS, "micrometers.list"],
  "certificates.register": [...REGISTERS, "micrometers.list"],
  "calibrations.begin": CALIBRATIONS,
  "calibrations.keepDraft": ["calibrations.list", "calibrations.get"],
  "calibrations.putInForce": CALIBRATIONS,
  "calibrations.withdraw": CALIBRATIONS,
  "methods.define": [...REGISTERS, "methods.list"],
  "sheets.open": ROWS,
  "sheets.chooseObjective": ["sheets.list", "trail.page"],
  "rows.enter": ROWS,
  "rows.describe": ROWS,
  "rows.strike": ROWS,
  "rows.keepDraft": [],
  "backups.make": ["backups.list"],
} satisfies Partial<Record<CallName, readonly CallName[]>> & Record<WriteName, readonly CallName[]>;

/** The reads that are out of date once `done` has been acknowledged. */
export function outOfDateAfter(done: CallName): readonly CallName[] {
  return changes[done] ?? [];
}
