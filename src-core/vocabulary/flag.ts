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
