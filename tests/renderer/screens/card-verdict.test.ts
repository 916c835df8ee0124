import { expect, it } from "vitest";
import { cardVerdict } from "#renderer/screens/bench/card-verdict.ts";

const READY = { state: "ready", why: "Calibrated; the calibration is due on 2027-03-01." } as const;

it("gives one verdict, the heavier of state and trend, and the other one in words", () => {
  const jumped = { kind: "jumped", why: "By −1.5 % between two days." } as const;
  expect(cardVerdict(READY, jumped)).toEqual({
    words: "jumped",
    mark: "bad",
    why: jumped.why,
    also: READY.why,
  });
  expect(cardVerdict({ state: "check before use", why: "A knock." }, jumped)).toEqual({
    words: "check before use",
    mark: "bad",
    why: "A knock.",
    also: "Jumped: By −1.5 % between two days.",
  });
  const small = { kind: "small change", why: "By +0.1 %. It lies within U." } as const;
  expect(cardVerdict(READY, small)).toMatchObject({
    words: "ready",
    mark: "good",
    also: `Small change: ${small.why}`,
  });
});

it("does not say twice that a date has passed, or that there is no calibration", () => {
  const state = { state: "calibration overdue", why: "It was due on 2026-01-01." } as const;
  expect(cardVerdict(state, { kind: "overdue", why: "Due 3 days ago." }).also).toBe("");
  expect(cardVerdict({ state: "not calibrated", why: "None." }, null).also).toBe("");
});
