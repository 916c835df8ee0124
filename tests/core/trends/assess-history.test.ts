import { describe, expect, it } from "vitest";
import { decimal } from "#core/quantity/decimal.ts";
import { assessHistory } from "#core/trends/assess-history.ts";
import { dateOfDay } from "#core/trends/civil-day.ts";
import type { HistoryFactor } from "#core/trends/history-factor.ts";
import { type NamedEvent, type TrendVerdict, trendVerdict } from "#core/trends/trend-verdict.ts";
import { historyOf } from "../../support/factor-histories.ts";

const TOLERANCE = decimal("0.02");

function assess(points: readonly HistoryFactor[], events: readonly NamedEvent[] = []) {
  return assessHistory<NamedEvent>({ points, events, tolerance: TOLERANCE });
}

function verdict(
  points: readonly HistoryFactor[],
  events: readonly NamedEvent[] = [],
  dueIn = 100,
): TrendVerdict {
  const today = (points.at(-1)?.day.toNumber() ?? 20_000) + 1;
  const history = assess(points, events);
  return trendVerdict({ history, points, tolerance: TOLERANCE, dueDay: today + dueIn, today });
}

const service = (day: number): NamedEvent => ({
  day: decimal(day),
  breaks: true,
  words: "a service: head cleaned",
});

/** Data and limits: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2, individuals control charts. */
const NIST_FLOW = "49.6 47.6 49.9 51.3 47.8 51.2 52.6 52.4 53.6 52.1".split(" ");
/** Invented inputs, limits computed independently with d2 = 1.128. */
const REPEATED_FACTOR = "10.10 10.11 10.09 10.10 10.12 10.10 10.08 10.11 10.10 10.10".split(" ");

describe("a history of ten values", () => {
  it("has the limits that the e-Handbook prints: 50.81, 55.8041 and 45.8159", () => {
    const { chart } = assess(historyOf(NIST_FLOW, { u: "2", every: 0 })).current;
    expect(chart?.limits.kind).toBe("preliminary");
    expect(chart?.centre.toFixed(2)).toBe("50.81");
    expect(chart?.action?.upper.toFixed(4)).toBe("55.8041");
    expect(chart?.action?.lower.toFixed(4)).toBe("45.8159");
    expect(chart?.signals.filter(({ weight }) => weight === "signal")).toEqual([]);
  });

  it("is charted about its line instead where its values rise with time, as these would a month apart", () => {
    const { chart } = assess(historyOf(NIST_FLOW, { u: "2" })).current;
    expect(chart?.drift?.p).toBeLessThan(0.05);
    expect(chart?.drifting).toBe(true);
    expect(chart?.action?.upper.lessThan("55.8")).toBe(true);
  });

  it("calls an eleventh value 4.45 s off a jump, +0.49 % from the mean of the ten", () => {
    const points = historyOf([...REPEATED_FACTOR, "10.15"], { u: "0.014" });
    const before = assess(points.slice(0, 10)).current.chart;
    expect(before?.action?.lower.toFixed(12)).toBe("10.059628841608");
    expect(before?.action?.upper.toFixed(12)).toBe("10.142371158392");
    expect(assess(points).current.chart?.levels.at(-1)).toBe("action");
    expect(verdict(points)).toEqual({
      kind: "jumped",
      why: `The last calibration (${dateOfDay(20_300)}) lies +0.49 % from the mean, beyond the limits of those before it: calibrate once more.`,
    });
    expect(verdict(points.slice(0, 10)).kind).toBe("steady");
  });
});

describe("by the number of points a history is", () => {
  it.each([
    [0, "not calibrated", "No calibration yet."],
    [1, "too few points", "1 calibration: a drift can show from 5."],
    [2, "too few points", "2 calibrations: a drift can show from 5. The last two agree (E_n 0.35)."],
    [4, "too few points", "4 calibrations, each within the limits of those before: a drift can show from 5."],
  ])("%i values: %s", (n, kind, why) => {
    expect(verdict(historyOf(REPEATED_FACTOR.slice(0, n)))).toEqual({ kind, why });
  });

  it("overdue when its day has passed, whatever it did before", () => {
    const found = verdict(historyOf(REPEATED_FACTOR), [], -3);
    expect(found.kind).toBe("overdue");
    expect(found.why).toMatch(/^Due 3 days ago: what happened since/);
    expect(verdict(historyOf(REPEATED_FACTOR), [], -1).why).toMatch(/^Due 1 day ago: /);
    expect(verdict(historyOf(REPEATED_FACTOR), [], 0).kind).toBe("steady");
  });
});

describe("a drift", () => {
  const rising = Array.from(
    { length: 12 },
    (_, at) => 2.5 * (1 + 0.002 * at) + (at % 2 === 0 ? 0.0004 : -0.0004),
  );
  const points = historyOf(rising, { u: "0.0008" });

  it("is named with its rate, its limit and the day, and charted about its line", () => {
    const found = assess(points);
    expect(found.current.chart?.drifting).toBe(true);
    expect(found.current.chart?.signals.filter(({ rule }) => rule === "T1")).toEqual([]);
    expect(verdict(points).why).toMatch(
      /^By \+2\.4 % a year over 12 calibrations; the line, with U, met \+2\.0 % about \d{4}-\d\d-\d\d\.$/,
    );
  });

  it("that has not reached its limit says when it will, and not before which day", () => {
    const slow = historyOf(
      rising.map((_, at) => 2.5 * (1 + 0.001 * at) + (at % 2 === 0 ? 0.0003 : -0.0003)),
      { u: "0.0006" },
    );
    const { reached, current } = assess(slow);
    expect(reached?.side).toBe("upper");
    // f(1 + T) − U = 2.5503·… less 0.0012; the line rises by 0.0025 in 30 days.
    expect(reached?.reaching.kind).toBe("day");
    expect(current.chart?.step).toBeNull();
    expect(verdict(slow).why).toMatch(/towards \+2\.0 %, met about .* \(not before .*\)\.$/);
  });

  it("falls towards the lower limit as well", () => {
    const falling = historyOf(
      rising.map((_, at) => 2.5 * (1 - 0.001 * at) + (at % 2 === 0 ? 0.0003 : -0.0003)),
      { u: "0.0006" },
    );
    expect(assess(falling).reached?.side).toBe("lower");
    expect(verdict(falling).why).toContain("towards −2.0 %");
  });
});

describe("a jump", () => {
  const stepped = [
    ...REPEATED_FACTOR.slice(0, 6),
    ...REPEATED_FACTOR.slice(0, 5).map((f) => Number(f) * 0.985),
  ];

  it("without an event is named between its two calibrations; the limits rest on those before", () => {
    const points = historyOf(stepped, { u: "0.012" });
    const { steps, current } = assess(points);
    expect(steps).toMatchObject([{ from: 5, to: 6, event: null }]);
    expect(steps[0]?.relative.toNumber()).toBeCloseTo(-0.015, 3);
    expect(current.chart?.limits.n).toBe(6);
    expect(current.chart?.levels.slice(6)).toEqual(Array.from({ length: 5 }, () => "action"));
    expect(verdict(points).why).toBe(
      `By −1.5 % between ${dateOfDay(20_150)} and ${dateOfDay(20_180)}, no event recorded; 5 calibrations since lie on the new level.`,
    );
  });

  it("at a service begins a new baseline, is named while that is young, and is history from eight points on", () => {
    const events = [service(20_170)];
    const young = historyOf(stepped, { u: "0.012" });
    expect(assess(young, events).baselines.map(({ counting }) => counting.length)).toEqual([6, 5]);
    expect(verdict(young, events)).toMatchObject({ kind: "jumped" });
    expect(verdict(young, events).why).toContain(`at a service: head cleaned (${dateOfDay(20_170)})`);
    const grown = historyOf([...stepped, ...stepped.slice(-4)], { u: "0.012" });
    expect(verdict(grown, events)).toMatchObject({ kind: "steady" });
    expect(verdict(grown, events).why).toContain("on the new level");
  });

  it("that the uncertainties cover is none: a service that changed nothing begins a baseline and no more", () => {
    const points = historyOf(REPEATED_FACTOR, { u: "0.012" });
    expect(assess(points, [service(20_100)]).steps).toEqual([]);
    expect(verdict(points, [service(20_100)]).kind).toBe("steady");
  });

  it("after which nothing was calibrated yet leaves a baseline without values", () => {
    const points = historyOf(REPEATED_FACTOR);
    const found = verdict(points, [service(20_300)]);
    expect(found).toEqual({
      kind: "too few points",
      why: `No calibration since a service: head cleaned (${dateOfDay(20_300)}).`,
    });
  });
});

describe("a small change", () => {
  // Ten values that scatter by 0.01 %, and a last one 0.1 % off: beyond the limits of a very quiet history.
  const quiet = Array.from({ length: 10 }, (_, at) => 2.5 * (1 + 0.0001 * ([0, 1, -1, 0.5][at % 4] ?? 0)));

  it("is what U covers and the tolerance hardly notices: no jump, and said so", () => {
    const points = historyOf([...quiet, 2.5 * 1.001], { u: "0.0002", common: "0.0015" });
    expect(assess(points).current.chart?.levels.at(-1)).toBe("action");
    expect(verdict(points)).toMatchObject({ kind: "small change" });
    expect(verdict(points).why).toContain("It lies within U (0.12 %) and far within the tolerance of 2.0 %.");
    expect(
      verdict([
        ...points.slice(0, 10),
        ...historyOf([2.5 * 1.002], { u: "0.0002", common: "0.0015", firstDay: 20_300 }),
      ]).kind,
    ).toBe("jumped");
  });

  it("but beyond half the tolerance a change is a jump, however large U", () => {
    const points = historyOf([...quiet, 2.5 * 1.012], { u: "0.0002", common: "0.02" });
    expect(verdict(points).kind).toBe("jumped");
  });

  it("does not hide that a date has passed", () => {
    const points = historyOf([...quiet, 2.5 * 1.001], { u: "0.0002", common: "0.0015" });
    expect(verdict(points, [], -3).kind).toBe("overdue");
  });
});

describe("one value apart", () => {
  const once = REPEATED_FACTOR.map((factor, at) => (at === 4 ? Number(factor) * 0.8 : factor));

  it("from both neighbours, which agree, is left out of limits, chain and line: a changer left in once", () => {
    const points = historyOf(once, { u: "0.012" });
    const found = assess(points);
    expect([...found.lone]).toEqual([4]);
    expect(found.chain.has(4)).toBe(false);
    expect(found.current.chart?.limits.n).toBe(9);
    expect(verdict(points)).toMatchObject({ kind: "steady" });
    expect(verdict(points).why).toContain(`One value (${dateOfDay(20_120)}) lies apart from both neighbours`);
  });

  it("at the end is not left out: nothing vouches for it yet", () => {
    const points = historyOf(once.slice(0, 5), { u: "0.012" });
    expect(assess(points).lone.size).toBe(0);
    expect(verdict(points).kind).toBe("jumped");
  });

  it("that was withdrawn is passed over", () => {
    const points = historyOf(once, { u: "0.012" }).map((one, at) => ({ ...one, withdrawn: at === 4 }));
    const found = assess(points);
    expect(found.lone.size).toBe(0);
    expect(found.current.counting).not.toContain(4);
  });
});

it("agreement leaves out what two calibrations share only when they share it", () => {
  const points = historyOf(["10", "10.03"], { u: "0.01", common: "0.02" });
  const shared = assess(points).chain.get(1);
  const apart = assess(points.map((one, at) => ({ ...one, reference: `SM ${at}` }))).chain.get(1);
  // Difference over 2·√(2·(0.01² + 0.02²)), and with the shared 0.02 taken out over 2·√(2·0.01²).
  expect(shared?.normalisedError.toNumber()).toBeCloseTo(0.03 / (2 * Math.sqrt(2 * 0.0005)), 12);
  expect(shared?.normalisedErrorApart.toNumber()).toBeCloseTo(0.03 / (2 * Math.sqrt(2 * 0.0001)), 12);
  expect(apart?.normalisedErrorApart.equals(apart.normalisedError)).toBe(true);
});

it("refuses a history out of order and a tolerance of nothing", () => {
  const points = historyOf(["10", "10.1"]);
  expect(() => assess(points.toReversed())).toThrow("points.1.day: must not lie before the point above it");
  expect(() => assessHistory({ points, events: [], tolerance: decimal(0) })).toThrow("tolerance:");
});
