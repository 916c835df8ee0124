import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput, CallName } from "#core/contract/calls.ts";
import { choose } from "#core/practice/exercises/choose.ts";
import { count } from "#core/practice/exercises/count.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { faultyBench } from "#core/practice/exercises/faulty-bench.ts";
import { findFault } from "#core/practice/exercises/find-fault.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { measure } from "#core/practice/exercises/measure.ts";
import { micrometerChoice } from "#core/practice/exercises/micrometer-choice.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { EXERCISES } from "#core/vocabulary/practice.ts";
import { truePresses, trueReadings, trueRow, trueSetting } from "../../../support/practice-reader.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let personId: string;

async function register(name: string, initials: string): Promise<string> {
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name, initials, interpupillaryMm: "63" },
  });
  return id;
}

beforeEach(async () => {
  bench = await tempBench();
  personId = await register("Ada Example", "AE");
  await bench.call("people.choose", { personId });
});
afterEach(() => bench.end());

const begin = (seed: number | null = null) =>
  bench.call("practice.begin", { requestId: bench.request(), exercise: "tenths", seed });
const answer = (attemptId: string, ordinal: number, reading: string) =>
  bench.call("practice.answer", { requestId: bench.request(), attemptId, ordinal, typed: { reading } });

/** Of a call that is refused: its code and field. */
async function refusal<N extends CallName>(name: N, input: CallInput<N>) {
  const reply = await bench.program.dispatch(name, input);
  return reply.ok ? null : { code: reply.error.code, field: reply.error.field ?? null };
}

const answering = (attemptId: string, ordinal: number, typed: Record<string, string>) =>
  refusal("practice.answer", { requestId: bench.request(), attemptId, ordinal, typed });

describe("an attempt", () => {
  it("is scored with its last answer, against the criteria it was begun under", async () => {
    const attempt = await begin(5113);
    expect(attempt.criteria).toMatchObject({ mostBias: "0.05", months: 12 });
    await bench.call("practice.setCriteria", {
      requestId: bench.request(),
      mostBias: "0.001",
      mostScatter: "0.001",
      mostFactorError: "0.001",
      leastSpan: "99",
      leastRight: "70",
      mostSizeError: "3",
      mostSizeScatter: "5",
      mostSlips: "6",
      mostCountError: "7",
      months: 1,
      reason: "as strict as can be",
    });
    for (const [index, truth] of trueReadings(5113).entries()) {
      expect((await bench.call("practice.get", { attemptId: attempt.id })).result).toBeNull();
      await answer(attempt.id, index + 1, truth.toFixed(1));
    }
    const ended = await bench.call("practice.get", { attemptId: attempt.id });
    expect(ended.result?.verdict).toBe("met");
    expect(ended.answers).toHaveLength(tenths.tasks);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    expect(await answering(attempt.id, tenths.tasks + 1, { reading: "50.0" })).toMatchObject({
      code: "attempt.ended",
    });
  });

  it("under way is gone on with, and not begun anew with another seed", async () => {
    const first = await begin(7);
    expect((await begin()).id).toBe(first.id);
    expect((await begin(7)).id).toBe(first.id);
    expect(
      await refusal("practice.begin", { requestId: bench.request(), exercise: "tenths", seed: 8 }),
    ).toEqual({ code: "attempt.underWay", field: "seed" });
  });

  it("takes the next answer only, once, from the person who began it", async () => {
    const { id } = await begin();
    const twice = { requestId: bench.request(), attemptId: id, ordinal: 1, typed: { reading: "50.1" } };
    await bench.call("practice.answer", twice);
    expect((await bench.call("practice.answer", twice)).answers).toHaveLength(1);
    expect(await answering(id, 1, { reading: "50.2" })).toEqual({ code: "answer.order", field: "ordinal" });
    expect(await answering(id, 3, { reading: "50.2" })).toEqual({ code: "answer.order", field: "ordinal" });
    await bench.call("people.choose", { personId: await register("Ben Example", "BE") });
    expect(await answering(id, 2, { reading: "50.2" })).toMatchObject({ code: "attempt.another" });
    const { answers } = await bench.call("practice.get", { attemptId: id });
    expect(answers.map(({ typed }) => typed)).toEqual([{ reading: "50.1" }]);
  });

  it.each([
    [{ reading: "50" }, "typed.reading"],
    [{}, "typed.reading"],
    [{ reading: "50.0", hint: "1" }, "typed.hint"],
  ])("refuses %j at %s and stores nothing of it", async (typed, field) => {
    const { id } = await begin();
    expect(await answering(id, 1, typed)).toEqual({ code: "input.invalid", field });
    expect((await bench.call("practice.get", { attemptId: id })).answers).toEqual([]);
  });

  it("given up keeps its answers and has no result", async () => {
    const { id } = await begin();
    await answer(id, 1, "50.1");
    const given = await bench.call("practice.giveUp", { requestId: bench.request(), attemptId: id });
    expect(given).toMatchObject({ result: null, endedAt: expect.any(String) });
    expect(given.answers).toHaveLength(1);
    expect((await begin()).id).not.toBe(id);
  });
});

/** A reader who knows the truth of every exercise. */
const KNOWING: readonly {
  readonly exercise: Exercise;
  readonly answer: (seed: number, ordinal: number) => Record<string, string>;
  readonly bad: { readonly typed: Record<string, string>; readonly field: string };
  readonly changed: Record<string, string>;
}[] = [
  {
    exercise: tenths,
    answer: (seed, ordinal) => ({ reading: trueReadings(seed)[ordinal - 1]?.toFixed(1) ?? "" }),
    bad: { typed: { reading: "101.0" }, field: "typed.reading" },
    changed: { reading: "0.1" },
  },
  {
    exercise: lineUp,
    answer: trueSetting,
    bad: {
      typed: { reticleFrom: "1.0", lineFrom: "5", reticleTo: "90.0", lineTo: "900", turned: "0.0" },
      field: "typed.lineFrom",
    },
    changed: { reticleFrom: "1.0", lineFrom: "0", reticleTo: "90.0", lineTo: "900", turned: "0.0" },
  },
  {
    exercise: findFault,
    answer: (seed, ordinal) => ({ fault: faultyBench(seed, ordinal).fault, looks: "3" }),
    bad: { typed: { fault: "dirt", looks: "1" }, field: "typed.fault" },
    changed: { fault: "inch", looks: "5" },
  },
  {
    exercise: choose,
    answer: (seed, ordinal) => {
      const { ranked, reason } = micrometerChoice(seed, ordinal);
      return { slide: ranked[0]?.id ?? "", reason };
    },
    bad: { typed: { slide: "1", reason: "colour" }, field: "typed.reason" },
    changed: { slide: "5", reason: "span" },
  },
  {
    exercise: measure,
    answer: trueRow,
    bad: { typed: { objective: "30", from: "1.0", to: "2.0", look: "40×" }, field: "typed.objective" },
    changed: { objective: "40", from: "1.0", to: "99.0", look: "40×" },
  },
  {
    exercise: count,
    answer: truePresses,
    bad: { typed: { presses: "3@10" }, field: "typed.presses" },
    changed: { presses: "1@0" },
  },
];

it("is known for every exercise there is", () => {
  expect(KNOWING.map(({ exercise }) => exercise.name).toSorted()).toEqual([...EXERCISES].toSorted());
});

describe.each(KNOWING)("an attempt at $exercise.name", ({ exercise, answer: known, bad, changed }) => {
  it("goes on after a crash, is met by who knows, and verify names a changed answer", async () => {
    const input = { requestId: bench.request(), exercise: exercise.name, seed: 41 };
    const { id, seed } = await bench.call("practice.begin", input);
    expect(await answering(id, 1, bad.typed)).toEqual({ code: "input.invalid", field: bad.field });
    for (let ordinal = 1; ordinal <= exercise.tasks; ordinal += 1) {
      if (ordinal === 3) {
        await bench.reopen();
        expect((await bench.call("practice.get", { attemptId: id })).answers).toHaveLength(2);
      }
      expect(await answering(id, ordinal, known(seed, ordinal))).toBeNull();
    }
    const { result } = await bench.call("practice.get", { attemptId: id });
    expect(result?.verdict).toBe("met");
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    tamper(
      bench.paths.databaseFile,
      `UPDATE practice_answer SET typed_json = '${JSON.stringify(changed)}' WHERE ordinal = 2`,
    );
    const { differences } = await bench.call("trail.verify", {});
    expect(JSON.stringify(differences)).toContain(`practice attempt ${id}, answer 2`);
  });
});
