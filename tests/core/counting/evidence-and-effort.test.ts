import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evidenceOfFields, evidenceOfTotal } from "#core/counting/intervals/count-evidence.ts";
import {
  countNeeded,
  fieldsNeeded,
  normalCountFor,
  objectsForProportion,
  objectsStillNeeded,
} from "#core/counting/intervals/counting-effort.ts";
import { garwoodInterval } from "#core/counting/intervals/poisson-interval.ts";
import { recountTest } from "#core/counting/recounts/recount-test.ts";
import { decimal } from "#core/quantity/decimal.ts";

const CLUSTERED = [1, 0, 14, 2, 0, 11, 3, 0, 9, 20];

describe("which interval is shown", () => {
  it("is that of the total while the fields differ no more than chance", () => {
    const evidence = evidenceOfFields([7, 5, 9, 6, 8, 4, 7, 10, 6, 8]);
    expect(evidence).toMatchObject({ basis: "poisson", poissonSuppressed: false, fields: 10, total: 70 });
    expect(evidence.lower).toBe(garwoodInterval(70).lower);
    expect(evidence.standard).toBeCloseTo(Math.sqrt(70), 12);
  });

  it("is that between the fields when they cluster, and the other is suppressed", () => {
    const evidence = evidenceOfFields(CLUSTERED);
    expect(evidence).toMatchObject({ basis: "between-fields", poissonSuppressed: true, total: 60 });
    expect(evidence.upper - evidence.lower).toBeGreaterThan(
      3 * (garwoodInterval(60).upper - garwoodInterval(60).lower),
    );
    expect(evidence.reason).toMatch(/^From the scatter between fields\. The objects lie in clusters/);
  });

  it("warns that clustering cannot be seen in a total or a single field", () => {
    expect(evidenceOfTotal(60).reason).toContain("clustering between fields cannot be seen");
    expect(evidenceOfFields([60])).toMatchObject({ basis: "poisson", fields: 1, dispersion: null });
  });

  it("always contains the total", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 40 }), (fields) => {
        const { total, lower, upper } = evidenceOfFields(fields);
        expect(lower).toBeLessThanOrEqual(total + 1e-9);
        expect(upper).toBeGreaterThanOrEqual(total - 1e-9);
      }),
    );
  });
});

describe("how much more to count", () => {
  it("is the smallest count that is precise enough", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.03, max: 1, noNaN: true }), (relative) => {
        const needed = countNeeded(relative);
        const width = (count: number) => {
          const { lower, upper } = garwoodInterval(count);
          return (upper - lower) / 2 / count;
        };
        expect(width(needed)).toBeLessThanOrEqual(relative);
        if (needed > 1) expect(width(needed - 1)).toBeGreaterThan(relative);
      }),
      { numRuns: 40 },
    );
  });

  it("is nothing once there is enough", () => {
    expect(objectsStillNeeded(300, 0.1)).toBe(95);
    expect(objectsStillNeeded(395, 0.1)).toBe(0);
    expect(objectsStillNeeded(394.5, 0.1)).toBe(1);
  });

  it("follows the scatter seen so far: four times the fields for half the width", () => {
    const wide = fieldsNeeded(CLUSTERED, 0.4);
    const narrow = fieldsNeeded(CLUSTERED, 0.2);
    expect(narrow?.exact).toBeCloseTo(4 * (wide?.exact ?? 0), 9);
    expect(narrow?.stillNeeded).toBe((narrow?.inAll ?? 0) - 10);
    expect(fieldsNeeded([0, 0, 0], 0.2)).toBeNull();
    expect(fieldsNeeded([5, 5, 5], 0.2)).toMatchObject({ exact: 0, inAll: 2, stillNeeded: 0 });
  });

  it("names what makes no sense", () => {
    expect(() => countNeeded(0)).toThrow(/^relative: /);
    expect(() => normalCountFor(0.1, 1)).toThrow(/^level: /);
    expect(() => fieldsNeeded([5], 0.1)).toThrow(/^fields: /);
    expect(() => objectsForProportion(1.1, 0.1)).toThrow(/^proportion: /);
    expect(() => objectsForProportion(0.1, 0)).toThrow(/^halfWidth: /);
  });
});

describe("a blind recount", () => {
  it("passes and fails on either side of the limit, whichever count is first", () => {
    const sr = decimal("0.12");
    expect(recountTest(decimal(180), decimal(150), sr).accepted).toBe(true);
    expect(recountTest(decimal(260), decimal(150), sr).accepted).toBe(false);
    expect(recountTest(decimal(150), decimal(260), sr).accepted).toBe(false);
  });

  it("names what it cannot use", () => {
    expect(() => recountTest(decimal(-1), decimal(1), decimal("0.1"))).toThrow(
      /^first: must not be negative/,
    );
    expect(() => recountTest(decimal(1), decimal(1), decimal(0))).toThrow(/^intracounterDeviation: /);
  });
});
