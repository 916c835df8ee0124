import { type ReactNode, useEffect, useRef, useState } from "react";
import { Button } from "../../parts/Button.tsx";
import fields from "../../parts/Field.module.css";
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

/** As many entries as are seen at a glance. */
const FEW = 8;

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
  const [typed, setTyped] = useState("");
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const found = items.filter(({ name, detail }) =>
    words.every((word) => `${name} ${detail}`.toLowerCase().includes(word)),
  );
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
        {items.length > FEW ? (
          <input
            type="search"
            className={fields.control}
            value={typed}
            aria-label="Find in this register"
            placeholder="Find"
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => setTyped(event.target.value)}
          />
        ) : null}
        {items.length > 0 && found.length === 0 ? (
          <p className={styles.empty}>Nothing here holds “{typed}”.</p>
        ) : null}
        {items.length === 0 ? <p className={styles.empty}>{empty}</p> : null}
        <ul className={styles.list}>
          {found.map((item) => (
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
