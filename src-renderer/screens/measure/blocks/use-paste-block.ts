import { useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { Client } from "#core/contract/calls.ts";
import {
  type BlockChoices,
  type BlockPreview,
  type FailedCell,
  MOST_CHARACTERS_OF_A_PART,
} from "#core/contract/records/block.ts";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newId, newRequestId } from "../../../bridge/request-id.ts";
import { partsOf } from "./parts-of-text.ts";
import { blockOf, type Paste, type PasteChoices, placeOf } from "./paste-choices.ts";

/** What was put aside last: the same text is not sent again. */
interface Staged {
  readonly text: string;
  readonly blockId: string;
}

async function stage(client: Client, sheetId: string, text: string): Promise<Staged | CallError> {
  const blockId = newId();
  for (const [at, piece] of partsOf(text, MOST_CHARACTERS_OF_A_PART).entries()) {
    const reply = await client("rows.stageBlock", { sheetId, blockId, part: at + 1, text: piece });
    if (!reply.ok) return reply.error;
  }
  return { text, blockId };
}

interface Outcome {
  readonly preview: BlockPreview | null;
  /** The whole block was refused, or could not be looked at. */
  readonly refusal: CallError | null;
  /** Every cell that has failed so far, those dealt with included, in the order of the paste. */
  readonly problems: readonly FailedCell[];
  /** The block that was looked at; null: none yet. */
  readonly of: object | null;
}

export interface PasteBlock extends Omit<Outcome, "of"> {
  /** True while the preview of the choices as they stand is on its way. */
  readonly isLooking: boolean;
  readonly isEntering: boolean;
  /** Asks again what the block would become, after a refusal that may have passed. */
  readonly lookAgain: () => void;
  /** Takes the block in, whole; `reason` goes with a change of a closed sheet. */
  readonly enter: (reason: string) => Promise<RowsChanged | null>;
}

const byPlace = (a: FailedCell, b: FailedCell): number => a.line - b.line || a.column - b.column;

function withFailed(known: readonly FailedCell[], failed: readonly FailedCell[]): readonly FailedCell[] {
  const all = new Map(known.map((cell) => [placeOf(cell.line, cell.column), cell]));
  for (const cell of failed) {
    const place = placeOf(cell.line, cell.column);
    // The text as it was pasted stays; the reason is that of the last try.
    all.set(place, { ...cell, text: all.get(place)?.text ?? cell.text });
  }
  return [...all.values()].sort(byPlace);
}

const NOTHING: Outcome = { preview: null, refusal: null, problems: [], of: null };

/** Puts the block aside, looks at what it would become with every choice, and takes it in. */
export function usePasteBlock(sheetId: string, paste: Paste, choices: PasteChoices): PasteBlock {
  const client = useClient();
  const [outcome, setOutcome] = useState(NOTHING);
  const [isEntering, setEntering] = useState(false);
  const [attempt, setAttempt] = useState(0);
  const staged = useRef<Staged | null>(null);
  const request = useRef<{ readonly id: string; readonly of: string } | null>(null);
  const block = useMemo(() => blockOf(paste, choices), [paste, choices]);
  const { columns } = choices;

  // Another use of the columns makes other cells fail.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => setOutcome((before) => ({ ...before, problems: [] })), [columns]);

  const stagedChoices = useCallback(async (): Promise<BlockChoices | CallError> => {
    if (staged.current?.text !== block.text) {
      const put = await stage(client, sheetId, block.text);
      if ("code" in put) return put;
      staged.current = put;
    }
    return { ...block.choices, sheetId, blockId: staged.current.blockId };
  }, [client, sheetId, block]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again
  useEffect(() => {
    let isWanted = true;
    const refuse = (refusal: CallError): void => {
      if (isWanted) setOutcome((before) => ({ ...before, preview: null, refusal, of: block }));
    };
    void stagedChoices().then(async (ready) => {
      if (!isWanted) return;
      if ("code" in ready) {
        refuse(ready);
        return;
      }
      const reply = await client("rows.previewBlock", ready);
      if (!reply.ok) refuse(reply.error);
      else if (isWanted) {
        const preview = reply.value;
        setOutcome(({ problems }) => ({
          preview,
          refusal: null,
          of: block,
          problems: withFailed(problems, preview.failed),
        }));
      }
    });
    return () => {
      isWanted = false;
    };
  }, [client, stagedChoices, block, attempt]);

  const lookAgain = useCallback(() => {
    // What was put aside may be gone: a refusal tells no more than that it cannot be looked at.
    staged.current = null;
    setOutcome((before) => ({ ...before, of: null }));
    setAttempt((before) => before + 1);
  }, []);

  const enter = useCallback(
    async (reason: string): Promise<RowsChanged | null> => {
      setEntering(true);
      setOutcome((before) => ({ ...before, refusal: null }));
      const ready = await stagedChoices();
      if ("code" in ready) {
        setEntering(false);
        setOutcome((before) => ({ ...before, refusal: ready }));
        return null;
      }
      // The same block sent again is the same act: it may have happened although the answer was lost.
      const of = JSON.stringify(ready);
      if (request.current?.of !== of) request.current = { id: newRequestId(), of };
      const why = reason.trim() === "" ? {} : { reason: reason.trim() };
      const reply = await client("rows.enterBlock", { requestId: request.current.id, block: ready, ...why });
      setEntering(false);
      if (reply.ok) return reply.value;
      setOutcome((before) => ({ ...before, refusal: reply.error }));
      return null;
    },
    [client, stagedChoices],
  );

  const { of, ...shown } = outcome;
  return { ...shown, isLooking: of !== block, isEntering, lookAgain, enter };
}
