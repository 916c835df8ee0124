import type { CallInput } from "#core/contract/calls.ts";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Dialog } from "../layout/Dialog.tsx";
import { ReasonForm } from "./ReasonForm.tsx";

export interface ConvertRowsDialogProps {
  readonly sheetId: string;
  readonly rows: CallInput<"rows.convert">["rows"];
  /** What they are, as a sentence goes on: “row 3”, “every row of this sheet”. */
  readonly what: string;
  readonly onConverted: (changed: RowsChanged) => void;
  readonly onClose: () => void;
}

/** Gives sizes to rows that were read before their train had a factor. */
export function ConvertRowsDialog({ sheetId, rows, what, onConverted, onClose }: ConvertRowsDialogProps) {
  const client = useClient();
  return (
    <Dialog title="Convert rows read without a factor" onClose={onClose} answersClose>
      <ReasonForm
        id={`convert-${sheetId}`}
        label="Convert rows read without a factor"
        what="the reason of a conversion"
        submit="Convert"
        send={(reason, requestId) => client("rows.convert", { requestId, sheetId, rows, reason })}
        onSaved={onConverted}
        onCancel={onClose}
      >
        <p>
          Readings of {what} that stayed divisions get their size by the factor in force now of the train they
          were read with. What has a size stays as it is; what the rows were is kept beside it.
        </p>
      </ReasonForm>
    </Dialog>
  );
}

/** The words for rows converted: “Two rows have their sizes now.” */
export function convertedWords({ count }: RowsChanged): string {
  return `${count === 1 ? "One row has its size" : `${count} rows have their sizes`} now.`;
}
