import { describe, expect, it } from "vitest";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { PROPOSED_PRACTICE_CRITERIA } from "#core/contract/records/practice.ts";
import type { PracticeClass, SlideReading } from "#core/contract/records/practice-class.ts";
import { classAdvice, classReport } from "#core/practice/class-report.ts";
import { classTables } from "#core/practice/class-tables.ts";
import { ALL_EXERCISES } from "#core/practice/exercises/all-exercises.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { type Decimal, decimal } from "#core/quantity/decimal.ts";
import { AIAG } from "#core/selftest/data/aiag.ts";
import { SIRSTV } from "#core/selftest/data/sirstv.ts";
import { evenChance } from "#core/uncertainty/chance-generator.ts";
import { trueReadings } from "../../support/practice-reader.ts";

const SEED = 5113;

function classOf(members: number, over: Partial<PracticeClass> = {}): PracticeClass {
  return {
    id: "class",
    name: "Course of March",
    seed: SEED,
    slide: "ruled slide",
    intervals: 1,
    repeats: 1,
    memberIds: Array.from({ length: members }, (_, at) => `person-${at + 1}`),
    madeAt: "2026-03-01T08:00:00.000Z",
    madeBy: "teacher",
    ...over,
  };
}

/** Lengths as readings of an interval from 0; a length below zero is read from 10. */
const readingsOf = (personId: string, interval: number, values: readonly Decimal[]): SlideReading[] =>
  values.map((value, at) => ({
    personId,
    interval,
    repeat: at + 1,
    left: "10",
    right: value.plus(10).toFixed(),
    at: "2026-03-01T09:00:00.000Z",
  }));

function normal(seed: number): () => number {
  const even = evenChance(seed);
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

function attemptOf(
  personId: string,
  bias: number,
  scatter: number,
  chance: () => number,
  seed = SEED,
): PracticeAttempt {
  const answers = trueReadings(seed).map((truth, at) => ({
    ordinal: at + 1,
    typed: { reading: Math.min(100, Math.max(0, truth + bias + scatter * chance())).toFixed(1) },
    at: "2026-03-01T09:30:00.000Z",
  }));
  const timed = answers.map(({ typed }) => ({ typed, seconds: decimal(4) }));
  return {
    id: `attempt of ${personId}`,
    exercise: "tenths",
    version: 1,
    seed,
    personId,
    criteria: PROPOSED_PRACTICE_CRITERIA,
    begunAt: "2026-03-01T09:00:00.000Z",
    answers,
    result: tenths.score(seed, timed, PROPOSED_PRACTICE_CRITERIA),
    endedAt: "2026-03-01T09:30:00.000Z",
  };
}

const names = (personId: string): string => personId;

describe("real material read by everybody", () => {
  it("NIST StRD, analysis of variance, SiRstv: five people read as the five instruments do", () => {
    const of = classOf(5, { repeats: 5 });
    const readings = of.memberIds.flatMap((id, at) => readingsOf(id, 1, SIRSTV[at] ?? []));
    const [interval] = classReport(of, [], readings).intervals;
    // NIST Statistical Reference Datasets: SiRstv.dat, certified values; seen, as in src-core/selftest.
    expect(interval?.anova?.f?.toNumber()).toBeCloseTo(1.18046237440255, 9);
    expect(interval?.anova?.between.degrees).toBe(4);
    expect(interval?.anova?.withinDeviation.toNumber()).toBeCloseTo(0.104076068334656, 10);
  });

  it("AIAG, Measurement Systems Analysis, 4th ed. 2010: its crossed study of three appraisers and ten parts", () => {
    const of = classOf(3, { intervals: 10, repeats: 3 });
    const readings = of.memberIds.flatMap((id, reader) =>
      (AIAG[reader] ?? []).flatMap((values, part) => readingsOf(id, part + 1, values)),
    );
    const { study } = classReport(of, [], readings);
    // Printed sums of squares of the book; components recomputed outside the program, as in src-core/selftest.
    expect(study?.found.specimen.squares.toNumber()).toBeCloseTo(88.3619344444, 8);
    expect(study?.found.reader.squares.toNumber()).toBeCloseTo(3.1672622222, 8);
    expect(study?.found.components.measurement.toNumber()).toBeCloseTo(0.302371522322905, 10);
  });

  it("is no study while fewer than two have read everything, and says nothing of nobody", () => {
    const of = classOf(2, { intervals: 2, repeats: 2 });
    const one = [decimal("40.1"), decimal("40.3")];
    const first = [...readingsOf("person-1", 1, one), ...readingsOf("person-1", 2, one)];
    expect(classReport(of, [], first).study).toBeNull();
    expect(classReport(of, [], [])).toMatchObject({ exercises: [], intervals: [], study: null });
    expect(classTables(classReport(of, [], []), names)).toEqual([]);
  });
});

describe("a class at the drawn eyepiece", () => {
  it("without differences shows some in about 5 of 100, and with one of 0.1 div nearly always", () => {
    const differs = (biasOfLast: number, trial: number): boolean => {
      const chance = normal(trial * 31 + 7);
      const of = classOf(4);
      const attempts = of.memberIds.map((id, at) => attemptOf(id, at === 3 ? biasOfLast : 0, 0.08, chance));
      const p = classReport(of, attempts, []).exercises[0]?.anova?.p;
      return p !== null && p !== undefined && p < 0.05;
    };
    const trials = 300;
    const share = (bias: number): number =>
      Array.from({ length: trials }, (_, at) => differs(bias, at + 1)).filter(Boolean).length / trials;
    // Three standard deviations of a share of 0.05 in three hundred trials: 0.038.
    expect(Math.abs(share(0) - 0.05)).toBeLessThan(0.038);
    expect(share(0.1)).toBeGreaterThan(0.95);
  });

  it("counts the newest attempt of each member with the seed of the class, begun since it was made", () => {
    const chance = normal(5);
    const of = classOf(2);
    const newest = { ...attemptOf("person-1", 0, 0.05, chance), id: "newest" };
    const older = { ...attemptOf("person-1", 0.5, 0.05, chance), id: "older" };
    const another = attemptOf("person-2", 0, 0.05, chance, SEED + 1);
    const before = { ...attemptOf("person-2", 0, 0.05, chance), begunAt: "2026-02-28T08:00:00.000Z" };
    const stranger = attemptOf("somebody else", 0, 0.05, chance);
    const [exercise] = classReport(of, [newest, older, another, before, stranger], []).exercises;
    expect(exercise?.members.map(({ attempt }) => attempt?.id ?? null)).toEqual(["newest", null]);
  });

  it("says who should practise what, and nothing of a good reader", () => {
    const chance = normal(12);
    const of = classOf(4);
    const attempts = [
      attemptOf("person-1", 0, 0.05, chance),
      attemptOf("person-2", 0.3, 0.05, chance),
      attemptOf("person-3", 0, 0.4, chance),
    ];
    const advice = classAdvice(classReport(of, attempts, []), names);
    expect(advice.join(" ")).not.toContain("person-1");
    expect(advice).toContain("person-2 should practise “Read tenths”: reads too high.");
    expect(advice.find((line) => line.startsWith("person-3"))).toContain("scatters too much");
    expect(advice).toContain("person-4 has not done “Read tenths” yet.");
    const tables = classTables(classReport(of, attempts, []), names);
    expect(tables).toHaveLength(1);
    expect(tables[0]?.title).toBe("Practice: Read tenths");
    expect(tables[0]?.rows).toHaveLength(4);
  });
});

it("names what the errors of each exercise are in: divisions, per cent or objects", () => {
  const errors = { personId: "person-1", n: 20, mean: decimal("0.3"), deviation: decimal("1.1") };
  const units = ALL_EXERCISES.filter((one) => one.errors !== null).map((exercise) => {
    const members = [{ personId: "person-1", attempt: null, errors }];
    const [table] = classTables(
      { exercises: [{ exercise, members, anova: null }], intervals: [], study: null },
      names,
    );
    return [exercise.name, table?.columns[2]?.title];
  });
  expect(Object.fromEntries(units)).toEqual({
    tenths: "Mean error / div",
    count: "Mean error / objects",
    "line-up": "Mean error / %",
    measure: "Mean error / %",
  });
});
