import { type CallName, calls, isCallName } from "#core/contract/calls.ts";

/** Chains and impacts read from everything there is. */
const TRACES: readonly CallName[] = ["trace.backward", "trace.forward", "trace.forwardRows", "trace.letter"];
/** Histories are derived from registers, calibrations, checks and events. */
const TRENDS: readonly CallName[] = ["trends.train", "trends.standings", "trends.sideBySide", "trends.onDay"];
const REGISTERS: readonly CallName[] = [
  "bench.status",
  "bench.overview",
  "trail.page",
  "due.list",
  "registers.history",
  ...TRACES,
  ...TRENDS,
];
const CALIBRATIONS: readonly CallName[] = [
  "bench.overview",
  "calibrations.list",
  "calibrations.summaries",
  "calibrations.get",
  "calibrations.standings",
  "due.list",
  "events.list",
  "trail.page",
  ...TRACES,
  ...TRENDS,
];
// Not sheets.get or rows.page: the entry grid keeps its own rows and would fetch them again on every key.
const ROWS: readonly CallName[] = [
  "sheets.list",
  "bench.overview",
  "trail.page",
  "sheets.signOffs",
  "rows.superseded",
  ...TRACES,
];
const REEVALUATIONS: readonly CallName[] = [
  ...CALIBRATIONS,
  "reevaluations.list",
  "reevaluations.status",
  "sheets.signOffs",
  "sheets.states",
  "rows.superseded",
];

/** Which reads are out of date after a write of a capability, the word before the dot of its name. */
const AFTER_CAPABILITY: ReadonlyMap<string, readonly CallName[]> = new Map<string, readonly CallName[]>([
  ["people", [...REGISTERS, "people.list", "people.pins"]],
  ["microscopes", [...REGISTERS, "microscopes.list"]],
  ["micrometers", [...REGISTERS, "micrometers.list"]],
  ["certificates", [...REGISTERS, "micrometers.list", "certificates.replacements"]],
  ["registers", [...REGISTERS, "registers.serviceStates"]],
  ["attachments", ["attachments.list", "registers.history", "trail.page", "trace.backward"]],
  ["events", [...REGISTERS, "events.list"]],
  ["checks", [...REGISTERS, "checks.list", "events.list"]],
  ["laboratory", [...REGISTERS, "laboratory.settings", "calibrations.standings"]],
  ["calibrations", CALIBRATIONS],
  ["methods", [...REGISTERS, "methods.list"]],
  ["sheets", [...ROWS, "sheets.states"]],
  ["rows", ROWS],
  ["imports", ROWS],
  ["reevaluations", REEVALUATIONS],
]);

const AFTER_CALL: ReadonlyMap<CallName, readonly CallName[]> = new Map<CallName, readonly CallName[]>([
  ["calibrations.keepDraft", ["calibrations.list", "calibrations.summaries", "calibrations.get"]],
  ["rows.keepDraft", []],
  // The blind reading keeps its own rows; what it comes to is read anew when it is closed.
  ["secondReadings.enter", ["trail.page"]],
  // The counting screen keeps its own counts and would read a whole count again on every key.
  ["tallies.press", []],
  ["tallies.pressMany", []],
  ["tallies.newField", ["trail.page"]],
  ["tallies.undo", []],
  ["backups.make", ["backups.list"]],
]);

/** A whole bench came in. */
const EVERYTHING: readonly CallName[] = Object.keys(calls)
  .filter(isCallName)
  .filter((name) => calls[name].kind === "read");

/** The reads that are out of date once `done` has been acknowledged. A read changes nothing, but for a new backup. */
export function outOfDateAfter(done: CallName): readonly CallName[] {
  const own = AFTER_CALL.get(done);
  if (own) return own;
  if (done === "documents.readIn" || done === "backups.restore") return EVERYTHING;
  if (calls[done].kind === "read") return [];
  const capability = done.slice(0, done.indexOf("."));
  return AFTER_CAPABILITY.get(capability) ?? ["trail.page", ...readsOf(capability)];
}

/** What a capability that no rule names can have changed: everything it tells. */
function readsOf(capability: string): readonly CallName[] {
  return Object.keys(calls)
    .filter(isCallName)
    .filter((name) => name.startsWith(`${capability}.`) && calls[name].kind === "read");
}
