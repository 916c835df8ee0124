import type { Count } from "#core/contract/records/count.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";

/** Chooses the sheet that `/` takes the object in hand to. */
export function LinkSheetForm({ count, onSaved }: { count: Count; onSaved: (count: Count) => void }) {
  const client = useClient();
  const sheets = useCall("sheets.list", {});
  const form = useForm<{ readonly sheetId: string }, Count>({
    id: `link-${count.id}`,
    what: "the linked sheet",
    initial: { sheetId: count.linkedSheetId ?? "" },
    send: ({ sheetId }, requestId) =>
      client("counts.linkSheet", { requestId, countId: count.id, sheetId: sheetId === "" ? null : sheetId }),
    onSaved,
  });
  return (
    <FormFrame form={form} submit="Link" label="Linked sheet">
      <CallNotice calls={[sheets]} waiting="Fetching the sheets …" />
      <SelectField
        {...form.bind("sheetId", "Sheet for measured objects")}
        hint="While counting, / goes there with the object in hand; Alt+← comes back. A row measured there goes with the next press."
        none="none"
        choices={(sheets.data ?? []).map((sheet) => ({
          value: sheet.id,
          words: `${sheet.number}, ${sheet.sample}`,
        }))}
      />
    </FormFrame>
  );
}
