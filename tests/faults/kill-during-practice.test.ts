import { randomInt } from "node:crypto";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import { EXERCISES, type ExerciseName } from "#core/vocabulary/practice.ts";
import { ANSWERS } from "#main/demo/practice-readers.ts";
import { seededChance } from "#main/demo/seeded-chance.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { CallRefused, enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";

const SEED = 41;
const LONGEST_LIFE_MS = 60;
const KILLS_OF_EACH = 2;
/** Each kill takes a start of the program. */
const PATIENCE_MS = 600_000;
/** Somebody who makes no mistakes: what is scored is then known. */
const PERFECT = { bias: 0, scatter: 0, step: 0.1, errs: 0 };

let program: LoopbackProgram;
let session: LoopbackSession;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  const person = { name: "Ada Example", initials: "AE", interpupillaryMm: "" };
  const { id } = await session.call("people.register", { requestId: "request-person", person });
  await session.call("people.choose", { personId: id });
});
afterAll(() => program.stop());

/** The same each time it is asked. */
const typedFor = (exercise: ExerciseName, ordinal: number) =>
  ANSWERS[exercise](SEED, ordinal, PERFECT, seededChance(ordinal));

const answer = (exercise: ExerciseName, attemptId: string, ordinal: number) =>
  session.call("practice.answer", {
    requestId: `request-${exercise}-${ordinal}`,
    attemptId,
    ordinal,
    typed: typedFor(exercise, ordinal),
  });

/** Answers on until the program is killed, or so far. @returns how many answers were acknowledged */
async function answerUntilKilled(exercise: ExerciseName, attemptId: string, done: number, last: number) {
  let acknowledged = done;
  const answering = (async () => {
    while (acknowledged < last) {
      await answer(exercise, attemptId, acknowledged + 1);
      acknowledged += 1;
    }
  })().catch((error: unknown) => error);
  await wait(randomInt(2, LONGEST_LIFE_MS));
  await program.kill9();
  const ended = await answering;
  if (ended instanceof CallRefused) throw ended;
  return acknowledged;
}

let unsaid = 0;
let answered = 0;

it.each(EXERCISES)(
  "%s goes on after kills where it stood, with every answer once, and is scored",
  async (exercise) => {
    const { tasks } = exerciseNamed(exercise);
    const begun = { requestId: `request-begin-${exercise}`, exercise, seed: SEED };
    const { id } = await session.call("practice.begin", begun);
    let done = 0;
    for (let kill = 0; kill < KILLS_OF_EACH; kill += 1) {
      // The last answer is left, so that there is always something to go on with.
      done = await answerUntilKilled(exercise, id, done, tasks - 1);
      await program.restart();
      session = await enterLoopback(program.address);
      const { answers, result } = await session.call("practice.begin", {
        ...begun,
        requestId: `request-again-${exercise}-${kill}`,
      });
      expect(result).toBeNull();
      expect([done, done + 1]).toContain(answers.length);
      expect(answers.map(({ typed }) => typed)).toEqual(
        answers.map(({ ordinal }) => typedFor(exercise, ordinal)),
      );
      if (answers.length > done) {
        unsaid += 1;
        // Sent again as the window does that heard no reply: it is stored once.
        await answer(exercise, id, answers.length);
      }
      done = answers.length;
    }
    for (let ordinal = done + 1; ordinal <= tasks; ordinal += 1) await answer(exercise, id, ordinal);
    const ended = await session.call("practice.get", { attemptId: id });
    expect(ended.answers.map(({ ordinal }) => ordinal)).toEqual(
      Array.from({ length: tasks }, (_, index) => index + 1),
    );
    expect(ended.result?.verdict).toBe("met");
    answered += tasks;
  },
  PATIENCE_MS,
);

it(
  "and the trail tells the same",
  async () => {
    expect(answered).toBe(EXERCISES.reduce((sum, name) => sum + exerciseNamed(name).tasks, 0));
    expect((await session.call("trail.verify", {})).differences).toEqual([]);
    lostNothing(
      "killed while somebody practises",
      EXERCISES.length * KILLS_OF_EACH,
      `${answered} answers, none twice, ${unsaid} on disk unsaid`,
    );
  },
  PATIENCE_MS,
);
