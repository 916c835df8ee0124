import { useState } from "react";
import { overdueUseWords, overdueWords } from "#core/calibration/overdue-words.ts";
import type { OverdueDates, OverdueWork } from "#core/contract/records/overdue-use.ts";
import { errorWords } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { useCall } from "../../bridge/use-call.ts";
import { keysOf } from "../../window/keymap.ts";
import { useCommand } from "../../window/use-command.tsx";
import { Button } from "../Button.tsx";
import { usePersonName } from "../bench-words/use-person-name.ts";
import { Caution } from "../Caution.tsx";
import { ReasonQuestion } from "../form/ReasonQuestion.tsx";
import { useReasons } from "../form/use-reasons.ts";
import { Dialog } from "../layout/Dialog.tsx";
import { Notice } from "../Notice.tsx";
import styles from "./OverdueNotice.module.css";

/** What was used past its due date for a sheet, count or calibration, by whom and why; nothing where nothing was. */
export function OverdueUses(work: OverdueWork) {
  const uses = useCall("overdueUses.of", work).data?.uses ?? [];
  const personName = usePersonName();
  return uses.map((use) => <Caution key={use.id}>{overdueUseWords(use, personName(use.by))}</Caution>);
}

/** Asks once, beside the work, why something past its due date is used all the same. Takes no focus. */
export function OverdueQuestion(work: OverdueWork) {
  const asked = useCall("overdueUses.of", work).data?.asked ?? null;
  const [open, setOpen] = useState(false);
  const reasons = useReasons("overdue");
  useCommand("overdue.say", asked ? () => setOpen(true) : null);
  return (
    <section className={styles.place} aria-label="Past its due date" aria-live="polite">
      {asked ? (
        <Notice kind="care" title={`Past its due date: ${overdueWords(asked)}.`}>
          <p className={styles.line}>
            Say once why it is used all the same; report and workbook print it with your name.
            <Button keyHint={keysOf("overdue.say")[0]} onClick={() => setOpen(true)}>
              Say why …
            </Button>
          </p>
        </Notice>
      ) : null}
      {asked && open ? (
        <OverdueDialog work={work} asked={asked} reasons={reasons} onClose={() => setOpen(false)} />
      ) : null}
    </section>
  );
}

function OverdueDialog({
  work,
  asked,
  reasons,
  onClose,
}: {
  work: OverdueWork;
  asked: OverdueDates;
  reasons: readonly string[];
  onClose: () => void;
}) {
  const client = useClient();
  const [refused, setRefused] = useState<string | null>(null);
  const send = async (reason: string): Promise<void> => {
    const reply = await client("overdueUses.record", { requestId: newRequestId(), ...work, reason });
    if (reply.ok) onClose();
    else setRefused(errorWords(reply.error));
  };
  return (
    <Dialog title="Used past its due date" onClose={onClose}>
      <ReasonQuestion
        id="overdue-reason"
        reasons={reasons}
        submit="Keep it"
        minus="leaves it unsaid for now"
        refused={refused}
        onReason={(reason) => void send(reason)}
        onClose={onClose}
      >
        <p>{`On this bench ${overdueWords(asked)}. What is measured with it keeps its flag; who used it and why goes to the audit trail, the report and the workbook.`}</p>
      </ReasonQuestion>
    </Dialog>
  );
}
