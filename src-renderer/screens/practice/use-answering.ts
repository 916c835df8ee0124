import { useRef, useState } from "react";
import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { playTone } from "../../sound/window-sound.ts";

/** Gives the answers of an attempt one after another: each is stored before the next picture is shown. */
export function useAnswering(attempt: PracticeAttempt, onEnded: () => void) {
  const client = useClient();
  const [problem, setProblem] = useState<CallError | null>(null);
  const request = useRef<{ id: string; of: string } | null>(null);
  /** The task whose answer is under way: the next picture may be there before the reply that it came with is read. */
  const underWay = useRef<number | null>(null);
  const ordinal = attempt.answers.length + 1;

  const refuse = (error: CallError): void => {
    playTone("refused");
    setProblem(error);
  };
  const take = async (typed: Readonly<Record<string, string>>): Promise<void> => {
    if (underWay.current === ordinal) return;
    underWay.current = ordinal;
    // The same answer sent again after a lost reply is stored once.
    const of = JSON.stringify([ordinal, typed]);
    if (request.current?.of !== of) request.current = { id: newRequestId(), of };
    const requestId = request.current.id;
    const reply = await client("practice.answer", { requestId, attemptId: attempt.id, ordinal, typed });
    if (underWay.current === ordinal) underWay.current = null;
    if (!reply.ok) return refuse(reply.error);
    playTone("taken");
    setProblem(null);
    if (reply.value.endedAt !== null) onEnded();
  };
  const giveUp = async (): Promise<void> => {
    const reply = await client("practice.giveUp", { requestId: newRequestId(), attemptId: attempt.id });
    if (reply.ok) onEnded();
    else refuse(reply.error);
  };
  return {
    ordinal,
    problem,
    take: (typed: Readonly<Record<string, string>>) => void take(typed),
    giveUp: () => void giveUp(),
  };
}

export type Answering = ReturnType<typeof useAnswering>;

/** What is wrong with one field of an answer. */
export function problemOf(problem: CallError | null, field: string): string | undefined {
  return problem?.field === `typed.${field}` ? problem.message : undefined;
}
