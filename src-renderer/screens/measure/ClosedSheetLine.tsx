import { useEffect, useState } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import type { SheetSignOffs } from "#core/contract/records/sign-off.ts";
import { useCall } from "../../bridge/use-call.ts";
import type { SheetLink } from "../../grid/sheet-link.ts";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { ReasonField } from "../../parts/form/ReasonField.tsx";
import { Notice } from "../../parts/Notice.tsx";

/** On a sheet that is not open: its state, and the reason that goes with every change. */
export function ClosedSheetLine({ sheetId, link }: { sheetId: string; link: SheetLink }) {
  const states = useCall("sheets.states", {});
  const state = states.data?.find((one) => one.sheetId === sheetId);
  return state ? <ClosedSheet sheetId={sheetId} link={link} /> : null;
}

function ClosedSheet({ sheetId, link }: { sheetId: string; link: SheetLink }) {
  const nameOf = usePersonName();
  const current = useCall("sheets.signOffs", { sheetId }).data;
  const [reason, setReason] = useState(link.amendReason);
  // What is given here is for this visit to the sheet.
  useEffect(
    () => () => {
      link.amendReason = "";
    },
    [link],
  );
  if (!current || current.state === "open") return null;
  const problem = reason === "" ? null : (Reason.safeParse(reason).error?.issues[0]?.message ?? null);
  return (
    <Notice kind="care" title={titleOf(current, nameOf)}>
      <ReasonField
        use="amend"
        id={`amend-${sheetId}`}
        label="Reason for changes"
        value={reason}
        onChange={(text) => {
          setReason(text);
          link.amendReason = text;
        }}
        error={problem}
        hint="Without it a change is refused; its text stays in the cell."
      />
    </Notice>
  );
}

function titleOf(
  { state, signOffs, asksForSignature }: SheetSignOffs,
  nameOf: (id: string) => string,
): string {
  const current = signOffs.filter((one) => one.ended === null);
  const by = current.map((one) => `${one.kind} ${shownDay(one.at)} by ${nameOf(one.by)}`).join(", ");
  const again = asksForSignature ? " It asks for signature again." : "";
  const falls =
    state === "signed" || state === "reviewed" ? " A change takes review and signature away." : "";
  return `This sheet is ${state} (${by}).${falls}${again}`;
}
