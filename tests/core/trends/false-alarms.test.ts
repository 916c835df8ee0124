import { expect, it } from "vitest";
import { normalFrom } from "../../support/seeded-normal.ts";
import { SCATTER, simulatedHistory, verdictOf } from "../../support/simulated-histories.ts";

const SEEDS = 300;

/** What is said of a history in which nothing happens, over fixed seeds. */
function shareOf(kind: string, scatter: number, n: number, at = (_: number) => 1): number {
  let said = 0;
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const points = simulatedHistory({ name: "", at, scatter }, n, normalFrom(seed + 40_000));
    if (verdictOf(points).kind === kind) said += 1;
  }
  return said / SEEDS;
}

it.each([3, 5, 8, 12])("says jumped of at most 2 %% of steady histories of %i calibrations", (n) => {
  expect(shareOf("jumped", SCATTER, n)).toBeLessThanOrEqual(0.02);
  expect(shareOf("jumped", SCATTER / 4, n)).toBeLessThanOrEqual(0.02);
});

it("still says jumped of a change of 1 % in at least 95 % of histories with three calibrations on either side", () => {
  expect(shareOf("jumped", SCATTER, 6, (month) => (month < 3 ? 1 : 1.01))).toBeGreaterThanOrEqual(0.95);
});
