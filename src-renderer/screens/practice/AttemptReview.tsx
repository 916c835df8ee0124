import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import type { CountedAs, Review } from "#core/practice/exercises/exercise.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { StateMark } from "../../parts/StateMark.tsx";

interface ReviewedAnswer extends Review {
  readonly ordinal: number;
}

const COLUMNS: readonly Column<ReviewedAnswer>[] = [
  { key: "ordinal", title: "Task", names: true, cell: ({ ordinal }) => ordinal },
  {
    key: "right",
    title: "",
    unbroken: true,
    cell: ({ right }) => (
      <>
        <StateMark state={right ? "good" : "bad"} /> {right ? "right" : "wrong"}
      </>
    ),
  },
  { key: "given", title: "Your answer", words: true, cell: ({ given }) => given },
  { key: "truth", title: "It was", words: true, cell: ({ truth }) => truth },
  { key: "because", title: "Why", words: true, cell: ({ because }) => because },
];

const COUNTED: readonly Column<CountedAs>[] = [
  { key: "what", title: "There was", names: true, cell: ({ what }) => what },
  { key: "first", title: "Counted as 1", number: true, cell: ({ first }) => first },
  { key: "second", title: "Counted as 2", number: true, cell: ({ second }) => second },
  { key: "none", title: "Not counted", number: true, cell: ({ notCounted }) => notCounted },
];

/** What there was against what it was counted as, where objects are counted. */
export function CountedAsTable({ attempt }: { attempt: PracticeAttempt }) {
  const counted = exerciseOf(attempt).countedAs?.(attempt.seed, attempt.answers);
  return counted ? (
    <DataTable
      caption="What there was, and what it was counted as"
      columns={COUNTED}
      rows={counted}
      rowKey={({ what }) => what}
      empty=""
    />
  ) : null;
}

/** Each answer beside what was right, where an exercise has right and wrong ones. */
export function AttemptReview({ attempt }: { attempt: PracticeAttempt }) {
  const { review } = exerciseOf(attempt);
  if (!review) return null;
  const rows = attempt.answers.map(({ ordinal, typed }) => ({
    ordinal,
    ...review(attempt.seed, ordinal, typed),
  }));
  return (
    <DataTable
      caption="Answers, one by one"
      columns={COLUMNS}
      rows={rows}
      rowKey={({ ordinal }) => String(ordinal)}
      empty=""
    />
  );
}
