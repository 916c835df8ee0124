import type { NumberedChoice } from "../../../parts/layout/NumberedChoices.tsx";

/** Why a specimen is struck most often; common practice, no source. Another reason is typed. */
export const STRIKE_REASONS: readonly NumberedChoice[] = [
  { key: "broken", words: "broken or deformed" },
  { key: "overlapped", words: "overlapped by another" },
  { key: "unclear", words: "tilted or not in focus" },
  { key: "other kind", words: "not of this kind" },
  { key: "twice", words: "measured twice" },
  { key: "misread", words: "read wrongly" },
];
