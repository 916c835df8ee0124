/** Flags on a measurement: they inform and never block. */
export const FLAG_KEYS = [
  "off-scale",
  "edges-reversed",
  "few-divisions",
  "uncertainty-not-met",
  "near-resolution",
  "outside-history",
  "wrong-objective",
  "changer-forgotten",
  "calibration-overdue",
  "certificate-overdue",
  "check-before-use",
  "person-differs",
] as const;
export type FlagKey = (typeof FLAG_KEYS)[number];

/** A flag in the few words that fit a cell; `FLAG_WORDS` says what it means. */
export const FLAG_TITLES: Readonly<Record<FlagKey, string>> = {
  "off-scale": "off the scale",
  "edges-reversed": "edges reversed",
  "few-divisions": "few divisions",
  "uncertainty-not-met": "U not met",
  "near-resolution": "near resolution",
  "outside-history": "unusual size",
  "wrong-objective": "wrong objective?",
  "changer-forgotten": "changer?",
  "calibration-overdue": "calibration overdue",
  "certificate-overdue": "certificate overdue",
  "check-before-use": "check before use",
  "person-differs": "other person",
};
