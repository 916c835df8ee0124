import { type ReactNode, useEffect, useRef } from "react";
import { Button } from "../../parts/Button.tsx";
import type { LocationOf } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";
import styles from "./RegisterFrame.module.css";

export interface ListItem {
  readonly id: string;
  readonly name: string;
  readonly detail: string;
}

export interface RegisterFrameProps {
  readonly location: LocationOf<"registers">;
  /** The record at the right. */
  readonly shown: string | null;
  readonly items: readonly ListItem[];
  readonly addWords: string;
  /** Words when nothing is registered yet. */
  readonly empty: string;
  readonly children: ReactNode;
}

/** The record a register shows: the one asked for, or else its first; none while a new one is being entered. */
export function shownRecord<R extends { readonly id: string }>(
  records: readonly R[] | undefined,
  { recordId, form }: LocationOf<"registers">,
): R | undefined {
  if (form === "new") return undefined;
  return records?.find((one) => one.id === recordId) ?? records?.[0];
}

/** A register: its list at the left, one record at the right; a form has the whole width. */
export function RegisterFrame(props: RegisterFrameProps) {
  const { location, shown, items, addWords, empty, children } = props;
  const { register, recordId, form } = location;
  const record = useRef<HTMLDivElement>(null);
  const navigation = useNavigation();
  const add = () => navigation.go({ screen: "registers", register, recordId: null, form: "new" });
  useCommand("list.add", add);
  // A form that was saved takes the focus away with it: go on at what stands in its place.
  // biome-ignore lint/correctness/useExhaustiveDependencies: runs when another record or form is shown
  useEffect(() => {
    if (document.activeElement === document.body) record.current?.focus();
  }, [recordId, form]);
  return (
    <div className={styles.register} data-form={form !== null}>
      <div className={styles.side} hidden={form !== null}>
        <Button onClick={add} keyHint="Alt+N">
          {addWords}
        </Button>
        {items.length === 0 ? <p className={styles.empty}>{empty}</p> : null}
        <ul className={styles.list}>
          {items.map((item) => (
            <li key={item.id}>
              <button
                type="button"
                className={styles.item}
                aria-current={item.id === shown ? "true" : undefined}
                data-first-focus={(form === null && item.id === (recordId ?? shown)) || undefined}
                onClick={() =>
                  navigation.go({ screen: "registers", register, recordId: item.id, form: null })
                }
              >
                <span className={styles.name}>{item.name}</span>
                <span className={styles.detail}>{item.detail}</span>
              </button>
            </li>
          ))}
        </ul>
      </div>
      <div ref={record} tabIndex={-1} className={styles.record}>
        {children}
      </div>
    </div>
  );
}
