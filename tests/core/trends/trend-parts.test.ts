import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { studentTwoSidedP } from "#core/statistics/distributions.ts";
import { assessHistory } from "#core/trends/assess-history.ts";
import { dateOfDay, dayOfDate, daysAfter, daysBetween } from "#core/trends/civil-day.ts";
import { stepFinding, type WitnessSeries, witnessOf } from "#core/trends/common-step.ts";
import { proposedInterval } from "#core/trends/interval-advice.ts";
import { percentWords } from "#core/trends/percent-words.ts";
import { personDifferences } from "#core/trends/person-difference.ts";
import { referenceChanges } from "#core/trends/reference-change.ts";
import { stepChange } from "#core/trends/step-change.ts";
import { historyOf } from "../../support/factor-histories.ts";

describe("days of the calendar", () => {
  it("are those of the machine's own calendar, there and back", () => {
    fc.assert(
      fc.property(fc.integer({ min: -700_000, max: 2_900_000 }), (day) => {
        const date = new Date(day * 86_400_000).toISOString().slice(0, 10);
        fc.pre(!date.startsWith("-") && !date.startsWith("+"));
        expect(dateOfDay(day)).toBe(date);
        expect(dayOfDate("date", date)).toBe(day);
      }),
    );
  });

  it("are counted from one date to another over a leap day, and back", () => {
    expect(daysBetween("2024-02-28", "2024-03-01")).toBe(2);
    expect(daysBetween("2026-01-31", "2025-12-31")).toBe(-31);
    expect(daysAfter("2024-02-28", 2)).toBe("2024-03-01");
  });

  it.each(["2026-02-29", "2026-13-01", "2026-00-10", "1900-02-29", "26-01-01", "2026-1-1"])(
    "%s is refused",
    (date) => {
      expect(() => dayOfDate("date", date)).toThrow("date: is not a da");
    },
  );
});

describe("the best single step", () => {
  it("is the split with the largest pooled t, its p that of t times the places tried", () => {
    // By hand: means 10 and 14, sums of squares 2 and 2, 4 degrees of freedom.
    const values = [9, 10, 11, 13, 14, 15].map(decimal);
    const found = stepChange(values);
    expect([found?.index, found?.before.toNumber(), found?.after.toNumber()]).toEqual([3, 10, 14]);
    const t = 4 / Math.sqrt(((2 + 2) / 4) * (1 / 3 + 1 / 3));
    expect(found?.p).toBeCloseTo(Math.min(1, studentTwoSidedP(t, 4) * 5), 12);
  });

  it("finds the place of any step that stands out, and is p = 0 without scatter", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 11 }), fc.integer({ min: -9, max: 9 }), (place, height) => {
        fc.pre(height !== 0);
        const values = Array.from({ length: 12 }, (_, at) => decimal(at < place ? 3 : 3 + height));
        expect(stepChange(values)).toMatchObject({ index: place, p: 0 });
      }),
    );
    expect(stepChange([5, 5, 5, 5].map(decimal))).toBeNull();
    expect(() => stepChange([1, 2, 3].map(decimal))).toThrow("values");
  });
});

describe("changes of reference", () => {
  const changes = (references: string) =>
    referenceChanges([...references].map((reference, at) => ({ reference, day: decimal(at) }))).map(
      ({ index }) => index,
    );
  it("are those for good: two micrometers used in turn cut nothing", () => {
    expect(changes("AAABBB")).toEqual([3]);
    expect(changes("ABABAB")).toEqual([]);
    expect(changes("AABACC")).toEqual([4]);
    expect(changes("A")).toEqual([]);
  });
});

/** Six calibrations 30 days apart, a change of level from day 90 on, u 0.05 % each; invented inputs. */
function witness(key: string, microscope: string, change: number, switched = false): WitnessSeries {
  const noise = [0.0002, -0.0003, 0.0001, -0.0002, 0.0003, -0.0001];
  return {
    key,
    name: key,
    microscope,
    points: noise.map((part, at) => ({
      day: decimal(at * 30),
      value: decimal(2.5 * (1 + part + (at < 3 ? 0 : change))),
      occasionUncertainty: decimal("0.00125"),
      reference: switched && at >= 3 ? "new" : "old",
    })),
  };
}
const at90 = decimal(90);

describe("a step seen by several trains", () => {
  it("in all, on two microscopes, points to the micrometer", () => {
    const all = [witness("a", "I", 0.01), witness("b", "I", 0.0101), witness("c", "II", 0.0099)];
    const found = stepFinding(all, at90);
    expect(found.pointsTo).toBe("micrometer");
    expect(found.relative?.toNumber()).toBeCloseTo(0.01, 3);
  });

  it("in one alone points to that train", () => {
    const found = stepFinding([witness("a", "I", 0.01), witness("b", "I", 0), witness("c", "II", 0)], at90);
    expect([found.pointsTo, found.seen.map(({ series }) => series.key)]).toEqual(["train", ["a"]]);
  });

  it("in all of one microscope and no other points to what those share", () => {
    const all = [witness("a", "I", 0.01), witness("b", "I", 0.01), witness("c", "II", 0)];
    expect(stepFinding(all, at90).pointsTo).toBe("microscope");
  });

  it("of different size in all is no common cause", () => {
    const all = [witness("a", "I", 0.01), witness("b", "I", -0.02), witness("c", "II", 0.03)];
    expect(stepFinding(all, at90).pointsTo).toBe("train");
  });

  it("where and only where the reference was changed points to the micrometer", () => {
    const all = [witness("a", "I", 0.01, true), witness("b", "I", 0), witness("c", "II", 0)];
    expect(stepFinding(all, at90).pointsTo).toBe("micrometer");
  });

  it("in none, or with one witness only, points nowhere", () => {
    expect(stepFinding([witness("a", "I", 0), witness("b", "II", 0)], at90).pointsTo).toBe("nothing");
    expect(stepFinding([witness("a", "I", 0.01)], at90).pointsTo).toBe("nothing");
    expect(witnessOf(witness("a", "I", 0), decimal(0))).toBeNull();
    expect(witnessOf(witness("a", "I", 0), decimal(500))).toBeNull();
  });
});

describe("people", () => {
  const value = (person: string, relative: string) => ({
    person,
    relative: decimal(relative),
    uncertainty: decimal("0.001"),
  });
  it("differ when their means do by more than twice the u of the difference", () => {
    const [one] = personDifferences([value("A", "0.001"), value("A", "0.003"), value("B", "-0.002")]);
    expect(one?.relative.toNumber()).toBeCloseTo(0.004, 12);
    expect(one?.limit.toNumber()).toBeCloseTo(2 * Math.sqrt(0.001 ** 2 / 2 + 0.001 ** 2), 12);
    expect(one?.differs).toBe(true);
    expect(personDifferences([value("A", "0"), value("B", "0.001")])[0]?.differs).toBe(false);
    expect(personDifferences([value("A", "0"), value("A", "1")])).toEqual([]);
  });
});

describe("the interval", () => {
  const advise = (values: readonly (string | number)[], every = 91, jumped = false) => {
    const points = historyOf(values, { u: "0.01", every });
    const tolerance = decimal("0.02");
    return proposedInterval(assessHistory({ points, events: [], tolerance }), points, tolerance, jumped);
  };
  const steady = ["10", "10.01", "9.99", "10", "10.01", "10", "9.99", "10"];

  it("is a step longer after a small change, and never beyond what the slope allows", () => {
    const found = advise(steady);
    expect(found.methods.map(({ days }) => days)).toEqual([183, 730]);
    expect(found.days).toBe(183);
    expect(found.methods[0]?.reason).toBe(
      "The last change was +0.10 % of 2.0 % allowed, within 80 % of it: one step longer than 91 days.",
    );
  });

  it("stays after a change near the tolerance and is shortened after one beyond it", () => {
    expect(advise(["10", "10.01", "10.18"]).methods[0]?.days).toBe(91);
    expect(advise(["10", "10.01", "10.25"]).methods[0]?.days).toBe(30);
    expect(advise(["10", "10.01"]).methods[0]?.days).toBe(91);
  });

  it("by the slope: tolerance less U over the steepest slope of the history", () => {
    const rising = Array.from({ length: 8 }, (_, at) => 10 + 0.03 * at + (at % 2 === 0 ? 0.002 : -0.002));
    const points = historyOf(rising, { u: "0.01", every: 91 });
    const tolerance = decimal("0.02");
    const history = assessHistory({ points, events: [], tolerance });
    const slope = history.current.chart?.drift?.slopeInterval.upper.toNumber() ?? 0;
    const last = points.at(-1)?.value.toNumber() ?? 0;
    const days = Math.floor((last * 0.02 - 0.02) / slope);
    expect(proposedInterval(history, points, tolerance, false).methods[1]?.days).toBe(days);
  });

  it("is not proposed while a jump is unexplained, nor from nothing", () => {
    expect(advise(steady, 91, true).days).toBeNull();
    expect(advise(["10"]).days).toBeNull();
    expect(advise(["10"]).reason).toBe("Too few calibrations for a proposal.");
  });
});

it.each([
  ["0.00485", "+0.48 %"],
  ["-0.0163", "−1.6 %"],
  ["0", "0 %"],
  ["0.000351", "+0.035 %"],
  ["0.25", "+25 %"],
  ["-2", "−200 %"],
])("a change of %s reads %s", (relative, words) => {
  expect(percentWords(decimal(relative))).toBe(words);
});
