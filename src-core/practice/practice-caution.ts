/** Of every page and workbook of practice. */
export const PRACTICE_CAUTION =
  "Practice is never evidence for a factor, a size or a count. A met exercise is no licence: whoever answers for the results decides who works alone.";
