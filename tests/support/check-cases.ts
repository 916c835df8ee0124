import { describe, expect, it } from "vitest";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { runSelftest } from "#core/selftest/run-selftest.ts";

/** One test per reference case, named by what it checks; a failure shows the printed and the computed value. */
export function checkCases(title: string, cases: readonly ReferenceCase[]): void {
  describe(title, () => {
    it("has cases, each with its own id", () => {
      expect(cases.length).toBeGreaterThan(0);
      expect(new Set(cases.map(({ id }) => id)).size).toBe(cases.length);
    });

    it.each(cases)("$id $what = $expected [$standing]", (reference) => {
      const [row] = runSelftest([reference]).rows;
      expect(row, `${reference.source}; tolerance ${reference.tolerance}`).toMatchObject({ agrees: true });
    });
  });
}
