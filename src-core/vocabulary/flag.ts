/**
 * Flags on a measurement: they inform and never block. In order of weight: what can be wrong before what is merely
 * imprecise. `outside-sheet` follows from the other values of the sheet and is never stored.
 */
export const FLAG_KEYS = [
  "wrong-objective",
  "changer-forgotten",
  "off-scale",
  "edges-reversed",
  "part-unfinished",
  "outside-sheet",
  "outside-history",
  "check-before-use",
  "calibration-overdue",
  "certificate-overdue",
  "few-divisions",
  "uncertainty-not-met",
  "near-resolution",
  "person-differs",
] as const;
export type FlagKey = (typeof FLAG_KEYS)[number];

/** A flag in the few words that fit a cell; `FLAG_WORDS` says what it means. */
export const FLAG_TITLES: Readonly<Record<FlagKey, string>> = {
  "off-scale": "off the scale",
  "edges-reversed": "edges reversed",
  "part-unfinished": "part unfinished",
  "few-divisions": "few divisions",
  "uncertainty-not-met": "U not met",
  "near-resolution": "near resolution",
  "outside-sheet": "stands apart",
  "outside-history": "unusual size",
  "wrong-objective": "wrong objective?",
  "changer-forgotten": "changer?",
  "calibration-overdue": "calibration overdue",
  "certificate-overdue": "certificate overdue",
  "check-before-use": "check before use",
  "person-differs": "other person",
};

/** Flags that tell of the objective, the method or the person rather than of one specimen: said once where all have them. */
export const SHARED_FLAGS: ReadonlySet<FlagKey> = new Set<FlagKey>([
  "check-before-use",
  "calibration-overdue",
  "certificate-overdue",
  "few-divisions",
  "uncertainty-not-met",
  "near-resolution",
  "person-differs",
]);

/** Some flags by weight, each once. */
export function byWeight(flags: Iterable<FlagKey>): FlagKey[] {
  const found = new Set(flags);
  return FLAG_KEYS.filter((key) => found.has(key));
}
