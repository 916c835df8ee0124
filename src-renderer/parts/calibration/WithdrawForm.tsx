import type { ReactNode } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import type { Reply } from "#core/contract/reply.ts";
import { FormFrame } from "../form/FormFrame.tsx";
import { TextField } from "../form/TextField.tsx";
import { useForm } from "../form/use-form.ts";
import { Notice } from "../Notice.tsx";

export interface WithdrawFormProps<T> {
  /** What is withdrawn: its identifier and its name, e.g. `the calibration`. */
  readonly id: string;
  readonly what: string;
  /** What it means, as a title and in a sentence. */
  readonly title: string;
  readonly children: ReactNode;
  readonly send: (reason: string, requestId: string) => Promise<Reply<T>>;
  readonly onSaved: (saved: T) => void;
  readonly onCancel: () => void;
}

/** Takes a record back, with the reason. */
export function WithdrawForm<T>({
  id,
  what,
  title,
  children,
  send,
  onSaved,
  onCancel,
}: WithdrawFormProps<T>) {
  const form = useForm({
    id: `withdraw-${id}`,
    what: "the withdrawal you began",
    initial: { reason: "" },
    check: ({ reason }) => {
      const problem = Reason.safeParse(reason).error?.issues[0]?.message;
      return problem ? { reason: problem } : {};
    },
    send: ({ reason }, requestId) => send(reason, requestId),
    onSaved,
  });
  return (
    <FormFrame form={form} label={`Withdraw ${what}`} submit="Withdraw" onCancel={onCancel}>
      <Notice kind="care" title={title}>
        {children}
      </Notice>
      <TextField {...form.bind("reason", "Reason")} lines={2} autoFocus />
    </FormFrame>
  );
}
