import { randomInt } from "node:crypto";
import { MOST_SEED } from "#core/contract/calls/practice.ts";
import type { PracticeAttempt, PracticeCriteria } from "#core/contract/records/practice.ts";
import { exerciseNamed, exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import {
  attemptUnderWay,
  endAttempt,
  findAttempt,
  insertAnswer,
  insertAttempt,
  keepPracticeCriteria,
  listAttempts,
  practiceCriteria,
} from "../../store/repositories/practice-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { requireAttempt } from "./require-attempt.ts";
import { scoreAttempt } from "./score-attempt.ts";

/** An attempt that the person at the bench may go on with. */
function requireUnderWay({ db, by }: WriteContext, id: string): PracticeAttempt {
  const attempt = requireAttempt(db, id);
  if (attempt.endedAt !== null) {
    throw new Refusal("attempt.ended", "This attempt has ended; its answers stay as they are.", {
      hint: "Begin another attempt.",
    });
  }
  if (attempt.personId !== by.id) {
    throw new Refusal("attempt.another", "This attempt was begun by another person.", {
      hint: "Change the person at the bench (F4), or begin an attempt of your own.",
    });
  }
  return attempt;
}

function requireNext(attempt: PracticeAttempt, ordinal: number): void {
  const next = attempt.answers.length + 1;
  if (ordinal === next) return;
  throw new Refusal("answer.order", `Answer ${ordinal} is not the next one: ${next} is.`, {
    field: "ordinal",
    hint: `${countedNoun(next - 1, "answer is", "answers are")} stored. Nothing was changed.`,
  });
}

/** What an exercise does not ask for would be stored and scored by nobody. @throws InputError naming the field */
function requireFields({ fields, notes }: Exercise, typed: Readonly<Record<string, string>>): void {
  const asked: readonly string[] = [...fields.map(({ name }) => name), ...notes];
  const unasked = Object.keys(typed).find((name) => !asked.includes(name));
  if (unasked !== undefined) throw new InputError(`typed.${unasked}`, "is not asked for by this exercise");
}

/** Practice at the drawn eyepiece. Nothing here is evidence for a factor, a size or a count. */
export function practiceServices(deps: Deps) {
  const { db } = deps;
  return handlers({
    "practice.list": ({ personId }) => listAttempts(db, personId),
    "practice.get": ({ attemptId }) => requireAttempt(db, attemptId),
    "practice.criteria": () => practiceCriteria(db),

    "practice.begin": (input, call) =>
      inTransactionOnce<PracticeAttempt>(
        deps,
        call,
        input,
        (ctx) => {
          const underWay = attemptUnderWay(ctx.db, ctx.by.id, input.exercise);
          if (underWay && input.seed !== null && input.seed !== underWay.seed) {
            throw new Refusal("attempt.underWay", "You have an attempt with another seed under way.", {
              field: "seed",
              hint: "Go on with it to its end or give it up, then begin with this seed.",
            });
          }
          if (underWay) return underWay;
          const exercise = exerciseNamed(input.exercise);
          const attempt: PracticeAttempt = {
            id: deps.ids.next(),
            exercise: exercise.name,
            version: exercise.version,
            seed: input.seed ?? randomInt(1, MOST_SEED + 1),
            personId: ctx.by.id,
            criteria: practiceCriteria(ctx.db),
            begunAt: ctx.at,
            answers: [],
            result: null,
            endedAt: null,
          };
          insertAttempt(ctx.db, attempt);
          const { exercise: name, version, seed, criteria } = attempt;
          ctx.audit({
            act: "practice.begin",
            subject: "practice_attempt",
            subjectId: attempt.id,
            detail: { exercise: name, version, seed, criteria },
          });
          return attempt;
        },
        findAttempt,
      ),

    "practice.answer": (input, call) =>
      inTransactionOnce<PracticeAttempt>(
        deps,
        call,
        input,
        (ctx) => {
          const attempt = requireUnderWay(ctx, input.attemptId);
          requireNext(attempt, input.ordinal);
          const exercise = exerciseOf(attempt);
          requireFields(exercise, input.typed);
          exercise.readAnswer(input.typed);
          const answer = { ordinal: input.ordinal, typed: input.typed, at: ctx.at };
          insertAnswer(ctx.db, attempt.id, answer);
          const answers = [...attempt.answers, answer];
          const result = answers.length === exercise.tasks ? scoreAttempt({ ...attempt, answers }) : null;
          if (result) endAttempt(ctx.db, attempt.id, ctx.at, result);
          ctx.audit({
            act: "practice.answer",
            subject: "practice_attempt",
            subjectId: attempt.id,
            detail: { ordinal: answer.ordinal, typed: answer.typed, ...(result && { result }) },
          });
          return requireAttempt(ctx.db, attempt.id);
        },
        findAttempt,
      ),

    "practice.giveUp": (input, call) =>
      inTransactionOnce<PracticeAttempt>(
        deps,
        call,
        input,
        (ctx) => {
          const attempt = requireUnderWay(ctx, input.attemptId);
          endAttempt(ctx.db, attempt.id, ctx.at, null);
          ctx.audit({
            act: "practice.giveUp",
            subject: "practice_attempt",
            subjectId: attempt.id,
            detail: {},
          });
          return requireAttempt(ctx.db, attempt.id);
        },
        findAttempt,
      ),

    "practice.setCriteria": (input, call) =>
      inTransactionOnceAbout<PracticeCriteria>(deps, call, input, {
        perform(ctx) {
          const from = practiceCriteria(ctx.db);
          const { requestId: _, reason, ...to } = input;
          keepPracticeCriteria(ctx.db, to);
          ctx.audit({
            act: "practice.setCriteria",
            subject: "practice",
            subjectId: "practice",
            reason,
            detail: { from, to },
          });
          return to;
        },
        subjectOf: () => "practice",
        find: practiceCriteria,
      }),
  });
}
