/** Where a person reads the scale: digits of the first two can be tested, since their objects differ in size. */
export const READING_SOURCES = [
  "sheets",
  "second readings",
  "calibrations",
  "checks",
  "class material",
] as const;
export type ReadingSource = (typeof READING_SOURCES)[number];
