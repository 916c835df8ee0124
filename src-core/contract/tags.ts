/**
 * The parts of a bench that a call can change and that an answer can rest on. A window that keeps an answer asks for it
 * anew once a call has changed a part the answer rests on, whether that call was its own, another window's or a job's.
 */
export const TAGS = [
  "present person",
  "people",
  "pins",
  "own settings",
  "laboratory",
  "microscopes",
  "micrometers",
  "service states",
  "attachments",
  "events",
  "checks",
  "calibrations",
  "overdue uses",
  "tolerances",
  "methods",
  "sheets",
  "rows",
  "drafts",
  "pasted blocks",
  "sign-offs",
  "second readings",
  "re-evaluations",
  "count methods",
  "category lists",
  "counts",
  "presses",
  "recounts",
  "practice",
  "trail",
  "backups",
  "notices",
] as const;
export type Tag = (typeof TAGS)[number];

/** What an act on the rows of a sheet changes: it uses up what was half typed, and review and signature may fall. */
export const ROW_ACT = ["rows", "drafts", "sign-offs", "trail"] as const satisfies readonly Tag[];

/** What the histories of factors are derived from. */
export const HISTORY = [
  "people",
  "laboratory",
  "microscopes",
  "micrometers",
  "service states",
  "events",
  "checks",
  "calibrations",
  "tolerances",
] as const satisfies readonly Tag[];

/** What the chain from a result to its certificate is drawn from. */
export const CHAIN = [
  "people",
  "laboratory",
  "microscopes",
  "micrometers",
  "service states",
  "attachments",
  "events",
  "checks",
  "calibrations",
  "methods",
  "sheets",
  "rows",
  "sign-offs",
  "re-evaluations",
] as const satisfies readonly Tag[];
