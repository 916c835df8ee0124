/** Flags on a measurement: they inform and never block. */
export const FLAG_KEYS = [
  "off-scale",
  "edges-reversed",
  "few-divisions",
  "near-resolution",
  "calibration-overdue",
  "certificate-overdue",
  "person-differs",
] as const;
export type FlagKey = (typeof FLAG_KEYS)[number];
