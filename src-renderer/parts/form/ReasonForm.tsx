import type { ReactNode } from "react";
import { Reason } from "#core/contract/records/primitives.ts";
import type { Reply } from "#core/contract/reply.ts";
import { FormFrame } from "./FormFrame.tsx";
import { TextField } from "./TextField.tsx";
import { useForm } from "./use-form.ts";

export interface ReasonFormProps<T> {
  /** Unique in the program. */
  readonly id: string;
  readonly label: string;
  /** As it reads after “You have not saved …”. */
  readonly what: string;
  readonly submit: string;
  readonly send: (reason: string, requestId: string) => Promise<Reply<T>>;
  readonly onSaved: (saved: T) => void;
  readonly onCancel?: () => void;
  /** What follows from the act, above the field. */
  readonly children?: ReactNode;
}

/** An act that asks for nothing but its reason. */
export function ReasonForm<T>(props: ReasonFormProps<T>) {
  const form = useForm({
    id: props.id,
    what: props.what,
    initial: { reason: "" },
    check: ({ reason }) => {
      const problem = Reason.safeParse(reason).error?.issues[0]?.message;
      return problem ? { reason: problem } : {};
    },
    send: ({ reason }, requestId) => props.send(reason, requestId),
    onSaved: props.onSaved,
  });
  return (
    <FormFrame form={form} label={props.label} submit={props.submit} onCancel={props.onCancel}>
      {props.children}
      <TextField {...form.bind("reason", "Reason")} lines={2} autoFocus />
    </FormFrame>
  );
}
