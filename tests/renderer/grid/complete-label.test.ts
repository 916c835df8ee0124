import { describe, expect, it } from "vitest";
import { completeLabel } from "#renderer/grid/complete-label.ts";

describe("completing a label", () => {
  it.each([
    ["be", "Betula"],
    ["Betula", null],
    ["Betula ", null],
    ["", null],
    ["al", "Alnus"],
    ["x", null],
  ])("%j → %j", (typed, label) => {
    expect(completeLabel(typed, ["Betula", "Alnus", "Alnus incana"])).toBe(label);
  });
});
