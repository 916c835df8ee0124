import type { ReasonUse } from "#core/contract/records/laboratory.ts";
import type { FieldProps } from "./field-props.ts";
import { onReasonKey } from "./ReasonChoices.tsx";
import { TextField } from "./TextField.tsx";
import { useReasons } from "./use-reasons.ts";

/** A reason inside a form: while the field is empty a digit writes one of the reasons named below it. */
export function ReasonField({ use, hint, ...field }: FieldProps & { readonly use: ReasonUse }) {
  const reasons = useReasons(use);
  const offered = reasons.map((reason, at) => `${at + 1} ${reason}`).join(" · ");
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the field inside hands its digits on
    <div onKeyDown={onReasonKey({ reasons, onChoose: field.onChange }, null)}>
      <TextField {...field} hint={[hint, offered].filter(Boolean).join(" ")} />
    </div>
  );
}
