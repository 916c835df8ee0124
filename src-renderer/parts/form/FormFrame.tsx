import type { ReactNode } from "react";
import { Button } from "../Button.tsx";
import { Notice } from "../Notice.tsx";
import { sentence } from "./FieldFrame.tsx";
import styles from "./FormFrame.module.css";
import type { Form } from "./use-form.ts";

export interface FormFrameProps<V extends object> {
  readonly form: Form<V>;
  /** Words of the button that saves. */
  readonly submit: string;
  readonly onCancel?: (() => void) | undefined;
  readonly label: string;
  readonly children: ReactNode;
}

/** A form with its summary of problems, its save button, and Ctrl+Enter from any field. */
export function FormFrame<V extends object>({ form, submit, onCancel, label, children }: FormFrameProps<V>) {
  return (
    <form
      ref={form.element}
      className={styles.form}
      noValidate
      aria-label={label}
      onSubmit={(event) => {
        event.preventDefault();
        form.submit();
      }}
      onKeyDown={(event) => {
        if (event.key !== "Enter" || !event.ctrlKey) return;
        event.preventDefault();
        form.submit();
      }}
    >
      {form.kept ? (
        <Notice title="Kept from before: typed, but not saved yet.">
          <p>
            <Button look="quiet" onClick={form.discard}>
              Start afresh
            </Button>
          </p>
        </Notice>
      ) : null}
      <Summary form={form} />
      {children}
      <footer className={styles.footer}>
        <Button look="main" type="submit" disabled={form.busy} keyHint="Ctrl+Enter">
          {form.busy ? "Saving …" : submit}
        </Button>
        {onCancel ? <Button onClick={onCancel}>Cancel</Button> : null}
      </footer>
    </form>
  );
}

function Summary<V extends object>({ form }: { form: Form<V> }) {
  const { problems, refusal } = form;
  if (problems.length === 0 && !refusal) return null;
  return (
    <div tabIndex={-1} data-summary="true">
      <Notice kind="fault" live title={titleOf(problems.length, refusal?.message)} hint={refusal?.hint}>
        {problems.length > 0 ? (
          <ul className={styles.problems}>
            {problems.map((problem) => (
              <li key={problem.path}>
                {problem.fieldId ? (
                  <button type="button" className={styles.link} onClick={() => focusField(problem.fieldId)}>
                    {sentence(problem.label, problem.reason)}
                  </button>
                ) : (
                  sentence(problem.label, problem.reason)
                )}
              </li>
            ))}
          </ul>
        ) : null}
      </Notice>
    </div>
  );
}

function titleOf(problems: number, refusal: string | undefined): string {
  if (problems === 0) return refusal ?? "Not saved.";
  return problems === 1
    ? "Not saved: 1 field needs attention."
    : `Not saved: ${problems} fields need attention.`;
}

function focusField(id: string | null): void {
  const field = id ? document.getElementById(id) : null;
  const inner = field instanceof HTMLFieldSetElement ? field.querySelector("input") : field;
  inner?.focus();
}
