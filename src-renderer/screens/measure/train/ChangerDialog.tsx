import { useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { NumberedChoices } from "../../../parts/layout/NumberedChoices.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import type { SheetContext } from "../sheet-context.ts";
import { objectiveOnceSent } from "./settled-objective.ts";

export interface ChangerDialogProps {
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly onChanged: () => void;
  readonly onClose: () => void;
}

/** Which setting of the changer, or stop of the zoom, the light goes through from the next reading on. */
export function ChangerDialog({ store, context, onChanged, onClose }: ChangerDialogProps) {
  const client = useClient();
  const [busy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState<CallError | null>(null);
  const { sheet, microscope, trains } = context;
  const factorWords = (setting: string): string => {
    const result = trains.find(
      ({ train }) =>
        train.objectiveId === store.state().objectiveId &&
        train.eyepieceId === sheet.eyepieceId &&
        train.intermediateMagnification === setting,
    )?.inForce?.result;
    const inUse = setting === sheet.intermediateMagnification ? "in use, " : "";
    return result
      ? `${inUse}${result.shownFactor} ± ${result.shownUncertainty} µm/div`
      : `${inUse}no calibration in force`;
  };
  const choose = async (setting: string): Promise<void> => {
    if (busy) return;
    setBusy(true);
    // What was typed before is converted with the setting before: it goes first.
    const objectiveId = await objectiveOnceSent(store);
    const reply = await client("sheets.chooseObjective", {
      requestId: newRequestId(),
      sheetId: sheet.id,
      objectiveId,
      intermediateMagnification: setting as typeof sheet.intermediateMagnification,
    });
    setBusy(false);
    if (reply.ok) onChanged();
    else setRefusal(reply.error);
  };
  return (
    <Dialog title="Changer or zoom" onClose={onClose}>
      {refusal ? <RefusalNotice error={refusal} /> : null}
      {microscope.intermediateMagnifications.length < 2 ? (
        <p>{microscope.name} has no setting registered but 1×.</p>
      ) : (
        <p role="status">{busy ? "Waiting for what was typed before …" : "From the next reading on:"}</p>
      )}
      <NumberedChoices
        choices={microscope.intermediateMagnifications.map((one) => ({
          key: one,
          words: `${one}×`,
          more: factorWords(one),
        }))}
        onChoose={(setting) => void choose(setting)}
        onLeave={onClose}
        autoFocus
      />
    </Dialog>
  );
}
