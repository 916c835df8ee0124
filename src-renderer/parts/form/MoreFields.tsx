import { type ReactNode, useState } from "react";
import styles from "./MoreFields.module.css";
import type { Form } from "./use-form.ts";

export interface MoreFieldsProps<V extends object> {
  /** What is folded away. */
  readonly words: string;
  readonly form: Form<V>;
  /** The fields inside: what is wrong with one of them, or filled in, is never out of sight. */
  readonly paths: readonly string[];
  readonly children: ReactNode;
}

/** Fields that a form does not need now, folded away under their names. */
export function MoreFields<V extends object>({ words, form, paths, children }: MoreFieldsProps<V>) {
  const [wanted, setWanted] = useState(false);
  const values = form.values as Readonly<Record<string, unknown>>;
  const isNeeded =
    form.problems.some(({ path }) => paths.includes(path)) ||
    paths.some((path) => values[path] !== "" && values[path] !== undefined);
  return (
    <details
      className={styles.more}
      open={wanted || isNeeded}
      onToggle={(event) => setWanted(event.currentTarget.open)}
    >
      <summary>{words}</summary>
      {children}
    </details>
  );
}
