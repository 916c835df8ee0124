import { useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { type CallError, errorWords } from "#core/contract/reply.ts";
import { ALL_EXERCISES } from "#core/practice/exercises/all-exercises.ts";
import type { Exercise } from "#core/practice/exercises/exercise.ts";
import type { ExerciseName } from "#core/vocabulary/practice.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { TextField } from "../../parts/form/TextField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { proofWords, verdictWords } from "./practice-words.ts";
import { useProof } from "./use-proof.ts";

/** The exercises there are, and how the person at the bench stands in each. */
export function ExerciseList({ onOpen }: { onOpen: (attemptId: string) => void }) {
  const status = useCall("bench.status", {});
  const personId = status.data?.personInUse?.id ?? null;
  return (
    <>
      <CallNotice calls={[status]} waiting="Reading who is at the bench …" />
      {status.data && personId === null ? (
        <Notice
          kind="care"
          title="Nobody has said who is at the bench."
          hint="Choose or register the person (F4): an attempt belongs to somebody."
        />
      ) : null}
      {personId === null ? null : <OfPerson personId={personId} onOpen={onOpen} />}
    </>
  );
}

function OfPerson({ personId, onOpen }: { personId: string; onOpen: (attemptId: string) => void }) {
  const attempts = useCall("practice.list", { personId });
  const begin = useBegin(onOpen);
  const [seed, setSeed] = useState("");
  return (
    <>
      <CallNotice calls={[attempts]} waiting="Reading the attempts …" />
      {begin.error && begin.error.field !== "seed" ? <RefusalNotice error={begin.error} /> : null}
      {ALL_EXERCISES.map((exercise, index) => (
        <ExercisePanel
          key={exercise.name}
          exercise={exercise}
          attempts={(attempts.data ?? []).filter((one) => one.exercise === exercise.name)}
          autoFocus={index === 0}
          onBegin={() => begin.start(exercise.name, seed)}
          onOpen={onOpen}
        />
      ))}
      <TextField
        id="practice-seed"
        label="Seed"
        kind="number"
        optional="for a class"
        hint="Everybody who begins with the same seed gets the same pictures. Empty: a new one."
        value={seed}
        onChange={setSeed}
        error={begin.error?.field === "seed" ? errorWords(begin.error) : undefined}
      />
    </>
  );
}

interface ExercisePanelProps {
  readonly exercise: Exercise;
  /** Newest first. */
  readonly attempts: readonly PracticeAttempt[];
  readonly autoFocus: boolean;
  readonly onBegin: () => void;
  readonly onOpen: (attemptId: string) => void;
}

function ExercisePanel({ exercise, attempts, autoFocus, onBegin, onOpen }: ExercisePanelProps) {
  const underWay = attempts.find(({ endedAt }) => endedAt === null);
  const last = attempts.find(({ result }) => result !== null);
  const proofs = attempts.map(useProof()).filter((one) => one !== null);
  const proof = proofs.find(({ withdrawnOn }) => withdrawnOn === null) ?? proofs[0];
  return (
    <Panel
      title={exercise.title}
      lead={exercise.does}
      actions={
        <>
          {last ? <Button onClick={() => onOpen(last.id)}>Last result</Button> : null}
          <Button look="main" autoFocus={autoFocus} onClick={onBegin}>
            {underWay ? `Go on at ${underWay.answers.length + 1} of ${exercise.tasks}` : "Begin"}
          </Button>
        </>
      }
    >
      <p>{exercise.why}</p>
      <p>
        {last ? `Last result: ${verdictWords(last).toLowerCase()}.` : "You have no result yet."}
        {proof ? ` ${sentence(proofWords(proof))}` : ""}
      </p>
    </Panel>
  );
}

const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

/** Begins an attempt, or goes on with the one under way. */
export function useBegin(onOpen: (attemptId: string) => void) {
  const client = useClient();
  const [error, setError] = useState<CallError | null>(null);
  const start = async (exercise: ExerciseName, typedSeed: string): Promise<void> => {
    const trimmed = typedSeed.trim();
    if (!/^\d*$/.test(trimmed))
      return setError({
        code: "input.invalid",
        field: "seed",
        message: "must be a whole number, such as 5113",
      });
    const seed = trimmed === "" ? null : Number(trimmed);
    const reply = await client("practice.begin", { requestId: newRequestId(), exercise, seed });
    if (!reply.ok) return setError(reply.error);
    setError(null);
    onOpen(reply.value.id);
  };
  return { error, start: (exercise: ExerciseName, seed: string) => void start(exercise, seed) };
}
