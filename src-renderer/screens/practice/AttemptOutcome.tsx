import type { PracticeAttempt, PracticeFigure } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { PRACTICE_CAUTION } from "#core/practice/practice-caution.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { AttemptPlots } from "./AttemptPlots.tsx";
import { AttemptReview, CountedAsTable } from "./AttemptReview.tsx";
import { CertificateOf } from "./CertificatePanel.tsx";
import styles from "./Practice.module.css";
import {
  FIGURE_WORDS,
  figureInterval,
  figureLimit,
  figureValue,
  proofWords,
  verdictWords,
} from "./practice-words.ts";
import { useProof } from "./use-proof.ts";

const COLUMNS: readonly Column<PracticeFigure>[] = [
  { key: "name", title: "Figure", names: true, cell: ({ name }) => FIGURE_WORDS[name].name },
  { key: "value", title: "Value", number: true, cell: figureValue },
  { key: "interval", title: "95 % interval", number: true, cell: figureInterval },
  { key: "limit", title: "Asked for", cell: figureLimit },
  { key: "meaning", title: "Meaning", cell: ({ name }) => FIGURE_WORDS[name].meaning },
];

/** What an ended attempt amounts to, on screen and on paper. */
export function AttemptOutcome({
  attempt,
  onAgain,
}: {
  attempt: PracticeAttempt;
  onAgain: (() => void) | null;
}) {
  const personName = usePersonName();
  const { title } = exerciseOf(attempt);
  const { result, endedAt } = attempt;
  const proof = useProof()(attempt);
  const mine = useCall("practice.list", { personId: attempt.personId }).data;
  const ordinal = mine
    ? mine.filter(({ exercise, begunAt }) => exercise === attempt.exercise && begunAt <= attempt.begunAt)
        .length
    : null;
  return (
    <Panel
      title={`Practice: ${title}`}
      actions={
        <>
          {onAgain ? (
            <Button look="main" onClick={onAgain}>
              Practise again
            </Button>
          ) : null}
          {result ? <PrintButton /> : null}
        </>
      }
    >
      <div className={styles.stack}>
        <p className={styles.verdict} role="status">
          <StateMark
            state={
              proof?.withdrawnOn ? "warn" : result ? (result.verdict === "met" ? "good" : "bad") : "none"
            }
          />
          {verdictWords(attempt)}
          {proof ? `: ${proofWords(proof)}` : ""}
        </p>
        <Facts
          facts={[
            ["Person", personName(attempt.personId)],
            ["Begun", printedInstant(attempt.begunAt)],
            ["Ended", endedAt === null ? "" : printedInstant(endedAt)],
            ["Exercise", `${title}, version ${attempt.version}`],
            ["Seed", String(attempt.seed)],
            ["Attempt of this reader at it", ordinal === null ? "" : `no. ${ordinal}`],
            ["Answers", String(attempt.answers.length)],
          ]}
        />
        {result ? (
          <>
            <DataTable
              caption="Figures of the attempt"
              captionHidden
              columns={COLUMNS}
              rows={result.figures}
              rowKey={({ name }) => name}
              empty=""
            />
            <AttemptPlots attempt={attempt} result={result} />
            <CountedAsTable attempt={attempt} />
            <AttemptReview attempt={attempt} />
            <p>
              A criterion fails only where the answers show it: who is exactly at it fails it at most 2.5
              times in a hundred.
            </p>
          </>
        ) : (
          <p>The answers given are kept; an attempt without an end has no result.</p>
        )}
        {result?.verdict === "met" ? <CertificateOf attempt={attempt} /> : null}
        <Notice kind="care">{PRACTICE_CAUTION}</Notice>
        {endedAt === null ? null : <PaperFoot asOf={endedAt} />}
      </div>
    </Panel>
  );
}
