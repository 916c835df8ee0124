import { useState } from "react";
import { CalendarDate, Reason } from "#core/contract/records/primitives.ts";
import type { ItemRef, ServiceState } from "#core/contract/records/service-state.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { today } from "../../../parts/bench-words/today.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { DateField } from "../../../parts/form/DateField.tsx";
import { FieldGrid } from "../../../parts/form/FieldGrid.tsx";
import { FormFrame } from "../../../parts/form/FormFrame.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { useForm } from "../../../parts/form/use-form.ts";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "../Registers.module.css";

export interface Item extends ItemRef {
  /** In words, as they read in “Take … out of service”. */
  readonly name: string;
}

/** Whether each of these things is in service, and since when and why not. */
export function ServiceStatePanel({ items }: { items: readonly Item[] }) {
  const nameOf = usePersonName();
  const states = useCall("registers.serviceStates", {});
  const [changing, setChanging] = useState<string | null>(null);
  const stateOf = (item: Item): ServiceState | undefined =>
    states.data?.find((one) => one.item.kind === item.kind && one.item.id === item.id);
  if (!states.data) return null;
  return (
    <ul className={styles.items}>
      {items.map((item) => {
        const state = stateOf(item);
        const isOut = state?.state === "out of service";
        return (
          <li key={`${item.kind} ${item.id}`} className={styles.item}>
            <p className={styles.line}>
              <StateMark state={isOut ? "bad" : "good"} />
              <span>
                <strong>{item.name}</strong>:{" "}
                {state
                  ? `${state.state} since ${state.from}, ${state.reason} (${nameOf(state.by)})`
                  : "in service since it was registered"}
              </span>
              {changing === null ? (
                <Button
                  look="quiet"
                  aria-label={`${isOut ? "Take back into service" : "Take out of service"}: ${item.name}`}
                  onClick={() => setChanging(item.id)}
                >
                  {isOut ? "Take back into service" : "Take out of service"}
                </Button>
              ) : null}
            </p>
            {changing === item.id ? (
              <StateForm
                item={item}
                state={isOut ? "in service" : "out of service"}
                onDone={() => setChanging(null)}
              />
            ) : null}
          </li>
        );
      })}
    </ul>
  );
}

interface StateFormProps {
  readonly item: Item;
  readonly state: ServiceState["state"];
  readonly onDone: () => void;
}

function StateForm({ item, state, onDone }: StateFormProps) {
  const client = useClient();
  const form = useForm({
    id: `state-${item.id}`,
    what: "the change of a state",
    initial: { from: today(), reason: "" },
    check: ({ from, reason }) => {
      const date = CalendarDate.safeParse(from).error?.issues[0]?.message;
      const why = Reason.safeParse(reason).error?.issues[0]?.message;
      return { ...(date ? { from: date } : {}), ...(why ? { reason: why } : {}) };
    },
    send: ({ from, reason }, requestId) =>
      client("registers.setServiceState", {
        requestId,
        item: { kind: item.kind, id: item.id },
        state,
        from,
        reason,
      }),
    onSaved: onDone,
  });
  const words = state === "in service" ? "Take back into service" : "Take out of service";
  return (
    <FormFrame form={form} label={`${words}: ${item.name}`} submit={words} onCancel={onDone}>
      <FieldGrid>
        <DateField {...form.bind("from", "From")} />
        <TextField {...form.bind("reason", "Reason")} autoFocus />
      </FieldGrid>
    </FormFrame>
  );
}
