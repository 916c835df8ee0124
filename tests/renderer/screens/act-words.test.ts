import { expect, it } from "vitest";
import { calls, isCallName } from "#core/contract/calls.ts";
import { asSentence } from "#core/quantity/as-sentence.ts";
import { actWords } from "#renderer/parts/bench-words/act-words.ts";

/** Writes that the trail is not told of: drafts, staged text, presses, which have a chain of their own, and tastes. */
const UNTOLD = [
  "rows.keepDraft",
  "rows.stageBlock",
  "counts.press",
  "counts.pressMany",
  "counts.undo",
  "ownSettings.change",
  "secondReadings.keepDraft",
];
/** The trail is told of each row, sheet or count, by the act on one. */
const TOLD_ONE_BY_ONE = ["sheets.openMany", "counts.openMany", "rows.strikeMany"];

it("every act that the trail tells of has words for people", () => {
  const writes = Object.keys(calls)
    .filter(isCallName)
    .filter((name) => calls[name].kind === "write");
  const without = [...UNTOLD, ...TOLD_ONE_BY_ONE];
  expect(writes.filter((name) => actWords(name) === name && !without.includes(name))).toEqual([]);
  expect(actWords("something.newer")).toBe("something.newer");
});

it.each([
  ["the sign was wrong", "the sign was wrong."],
  ["The sign was wrong. ", "The sign was wrong."],
  ["really?", "really?"],
  ["and so on …", "and so on …"],
])("“%s” ends a sentence with one full stop", (words, sentence) => {
  expect(asSentence(words)).toBe(sentence);
});
