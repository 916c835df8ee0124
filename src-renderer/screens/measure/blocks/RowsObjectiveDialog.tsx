import { type KeyboardEvent, useLayoutEffect, useRef, useState } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import type { CallError } from "#core/contract/reply.ts";
import { datedObjectiveWords } from "#core/optics/train-name.ts";
import { objectivesOnTurret, objectivesReplaced } from "#core/optics/turret.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { useCall } from "../../../bridge/use-call.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { Button } from "../../../parts/Button.tsx";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import { type SheetContext, trainOfObjective } from "../sheet-context.ts";
import styles from "./Blocks.module.css";
import { type MovedSize, movedSizes } from "./moved-sizes.ts";

/** Rows shown with what they would become. */
const SHOWN = 6;

/** Stored rows by ordinal, both ends included. */
export interface StoredRows {
  readonly from: number;
  readonly to: number;
}

export interface RowsObjectiveDialogProps {
  readonly rows: StoredRows;
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly onChanged: (changed: RowsChanged, objective: string) => void;
  readonly onClose: () => void;
}

const nameOf = ({ from, to }: StoredRows): string => (from === to ? `row ${from}` : `rows ${from} to ${to}`);

/** Says that rows were measured with another objective: with the reason, and with what their sizes become. */
export function RowsObjectiveDialog(props: RowsObjectiveDialogProps) {
  const [busy, setBusy] = useState(false);
  return (
    <Dialog
      title={`Objective of ${nameOf(props.rows)}`}
      wide
      answersClose
      onClose={busy ? null : props.onClose}
    >
      <RowsObjectiveForm {...props} busy={busy} setBusy={setBusy} />
    </Dialog>
  );
}

interface FormProps extends RowsObjectiveDialogProps {
  readonly busy: boolean;
  readonly setBusy: (busy: boolean) => void;
}

function RowsObjectiveForm({ rows, store, context, onChanged, onClose, busy, setBusy }: FormProps) {
  const client = useClient();
  const [objectiveId, setObjectiveId] = useState("");
  const [reason, setReason] = useState("");
  const [missing, setMissing] = useState<{ objective?: string; reason?: string }>({});
  const [refusal, setRefusal] = useState<CallError | null>(null);
  const request = useRef<{ readonly id: string; readonly of: string } | null>(null);
  const form = useRef<HTMLFormElement>(null);
  const onTheWay = useLivePart(store, (state) => state.outbox.length);
  const sheetId = context.sheet.id;
  const count = Math.min(SHOWN, rows.to - rows.from + 1);
  const page = useCall("rows.page", { sheetId, from: rows.from, count });
  const status = objectiveId === "" ? undefined : trainOfObjective(context, objectiveId);
  const { objectives: all } = context.microscope;
  const objectives = [...objectivesOnTurret(all), ...objectivesReplaced(all)];
  useLayoutEffect(() => form.current?.querySelector("input")?.focus(), []);

  const send = async (): Promise<void> => {
    const why = Reason.safeParse(reason);
    const problems = {
      ...(objectiveId === "" ? { objective: "is not chosen: type its turret position" } : {}),
      ...(why.success ? {} : { reason: why.error.issues[0]?.message ?? "Enter a reason in words." }),
    };
    setMissing(problems);
    if (problems.objective) form.current?.querySelector("input")?.focus();
    else if (problems.reason) form.current?.querySelector<HTMLElement>("#rows-objective-reason")?.focus();
    else await change(why.data ?? "");
  };
  const change = async (why: string): Promise<void> => {
    if (busy || onTheWay > 0) return;
    const one = rows.from === rows.to ? page.data?.rows[0] : undefined;
    const named = one ? { ids: [one.id] } : rows;
    const of = JSON.stringify([named, objectiveId, why]);
    if (request.current?.of !== of) request.current = { id: newRequestId(), of };
    setBusy(true);
    const reply = await client("rows.changeObjective", {
      requestId: request.current.id,
      sheetId,
      rows: named,
      objectiveId,
      reason: why,
    });
    setBusy(false);
    const chosen = objectives.find((objective) => objective.id === objectiveId);
    if (reply.ok) onChanged(reply.value, chosen ? `${chosen.position} · ${datedObjectiveWords(chosen)}` : "");
    else setRefusal(reply.error);
  };
  const chooseByDigit = (event: KeyboardEvent): void => {
    const isTyping = event.target instanceof HTMLInputElement && event.target.type === "text";
    const chosen = objectives.find((one) => String(one.position) === event.key);
    if (isTyping || !chosen) return;
    event.preventDefault();
    setObjectiveId(chosen.id);
    form.current?.querySelector<HTMLElement>(`input[value="${chosen.id}"]`)?.focus();
  };

  return (
    <form
      ref={form}
      noValidate
      className={styles.paste}
      onKeyDown={chooseByDigit}
      onSubmit={(event) => {
        event.preventDefault();
        void send();
      }}
    >
      <p>
        Says that {nameOf(rows)} {rows.from === rows.to ? "was" : "were"} measured with another objective
        {context.microscope.intermediateMagnifications.length > 1
          ? `, the changer at ${context.sheet.intermediateMagnification}× as it is now.`
          : "."}{" "}
        Every size is derived again from its readings; the results before are kept. Struck rows stay as they
        are.
      </p>
      {refusal ? <RefusalNotice error={refusal} /> : null}
      <ChoiceField
        id="rows-objective"
        label="Measured with"
        hint="A digit chooses by turret position."
        error={missing.objective ?? null}
        value={objectiveId}
        onChange={setObjectiveId}
        choices={objectives.map((one) => ({
          value: one.id,
          words: `${one.position} · ${datedObjectiveWords(one)}, ${factorWords(context, one.id)}`,
        }))}
      />
      {status && page.data ? <Moved moved={movedSizes(page.data.rows, status, context)} rows={rows} /> : null}
      <TextField
        id="rows-objective-reason"
        label="Reason"
        value={reason}
        onChange={setReason}
        error={missing.reason ?? null}
      />
      <p className={styles.answers}>
        <Button look="main" type="submit" keyHint="Enter" disabled={busy}>
          {submitWords(busy, onTheWay)}
        </Button>
        <Button keyHint="Escape" disabled={busy} onClick={onClose}>
          Cancel
        </Button>
      </p>
    </form>
  );
}

function submitWords(busy: boolean, onTheWay: number): string {
  if (busy) return "Changing …";
  return onTheWay > 0 ? `${onTheWay} still on the way …` : "Change the objective";
}

function factorWords(context: SheetContext, objectiveId: string): string {
  const result = trainOfObjective(context, objectiveId)?.inForce?.result;
  return result
    ? `${result.shownFactor} ± ${result.shownUncertainty} µm/div`
    : "no calibration in force: the rows keep divisions";
}

const COLUMNS: readonly Column<MovedSize>[] = [
  { key: "row", title: "Row", cell: (one) => one.ordinal, number: true },
  { key: "label", title: "Label", cell: (one) => one.label },
  { key: "dimension", title: "Dimension", cell: (one) => one.dimension },
  { key: "objective", title: "Objective now", cell: (one) => one.objectiveNow },
  { key: "standing", title: "Size now, µm", cell: (one) => one.sizeNow, number: true },
  { key: "moved", title: "Size then, µm", cell: (one) => one.moved, number: true },
];

function Moved({ moved, rows }: { moved: readonly MovedSize[]; rows: StoredRows }) {
  const more = rows.to - rows.from + 1 - SHOWN;
  return (
    <>
      <DataTable
        caption="What the sizes become"
        columns={COLUMNS}
        rows={moved}
        rowKey={(one) => `${one.rowId} ${one.dimension}`}
        empty="The rows looked at were measured with this objective already, or have no result."
      />
      {more > 0 ? (
        <p className={styles.soft}>
          and {more} more {more === 1 ? "row" : "rows"}, in the same way
        </p>
      ) : null}
    </>
  );
}
