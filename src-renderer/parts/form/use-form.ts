import { type RefObject, useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { newRequestId } from "../../bridge/request-id.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { tellRefusedForm } from "../../window/refused-forms.ts";
import type { FieldProps } from "./field-props.ts";
import { type FieldErrors, pathInForm, valueAt, withValueAt } from "./form-values.ts";
import { forgetKept, keepTyped, keptTyped } from "./kept-typing.ts";

export interface FormOptions<V extends object, T> {
  /** Unique in the program: names the fields and what is kept of them. */
  readonly id: string;
  /** What the form makes, as it reads after “You have not saved …”. */
  readonly what: string;
  readonly initial: V;
  /** Problems seen before anything is sent. */
  readonly check?: (values: V) => FieldErrors;
  readonly send: (values: V, requestId: string) => Promise<Reply<T>>;
  /** Name of the call's input object, dropped from the paths of its refusals. */
  readonly root?: string;
  /** From a path of the call's input to that of the form, where the two differ. */
  readonly fieldOf?: (path: string) => string;
  readonly onSaved: (saved: T) => void;
}

/** One line of the summary of problems. */
export interface FormProblem {
  readonly path: string;
  /** Id of the field; null when no field of this form is concerned. */
  readonly fieldId: string | null;
  readonly label: string;
  readonly reason: string;
}

export interface Form<V extends object> {
  readonly values: V;
  readonly problems: readonly FormProblem[];
  /** The host's refusal; its words stand in `problems` too when it names a field. */
  readonly refusal: CallError | null;
  readonly busy: boolean;
  /** The values were typed earlier and kept. */
  readonly kept: boolean;
  readonly set: (path: string, value: unknown) => void;
  /** Replaces several values at once, e.g. after a paste. */
  readonly change: (change: (values: V) => V) => void;
  readonly bind: (path: string, label: string) => FieldProps;
  readonly submit: () => void;
  /** Back to the start, forgetting what was typed. */
  readonly discard: () => void;
  readonly element: RefObject<HTMLFormElement | null>;
}

interface Outcome {
  readonly errors: FieldErrors;
  readonly refusal: CallError | null;
  /** Raised by each refusal, so that the first problem gets the focus again. */
  readonly count: number;
}

const NO_PROBLEMS: Outcome = { errors: {}, refusal: null, count: 0 };

/**
 * State of a form: raw strings as typed, problems at their fields, and a send that loses nothing when refused. What is
 * typed is kept until it is saved or discarded, so it outlives leaving the screen, a fault and a reload.
 */
export function useForm<V extends object, T>(options: FormOptions<V, T>): Form<V> {
  const { id, what } = options;
  const [initial] = useState(options.initial);
  const [restored] = useState(() => keptTyped<V>(id));
  const [values, setValues] = useState<V>(restored ?? initial);
  const [kept, setKept] = useState(restored !== null);
  const [outcome, setOutcome] = useState<Outcome>(NO_PROBLEMS);
  const [busy, setBusy] = useState(false);
  const element = useRef<HTMLFormElement>(null);
  const labels = useRef(new Map<string, string>());
  const request = useRef<{ id: string; of: string } | null>(null);
  const release = useRef<() => void>(() => undefined);
  const navigation = useNavigation();

  const dirty = useMemo(() => JSON.stringify(values) !== JSON.stringify(initial), [values, initial]);
  const discard = useCallback(() => {
    forgetKept(id);
    setValues(initial);
    setKept(false);
    setOutcome(NO_PROBLEMS);
  }, [id, initial]);

  useEffect(() => {
    if (dirty) keepTyped(id, values);
  }, [id, dirty, values]);
  useEffect(() => {
    if (!dirty) return;
    release.current = navigation.guard(id, { what, discard });
    return () => release.current();
  }, [navigation, id, what, dirty, discard]);
  useEffect(() => {
    if (outcome.count > 0) focusFirstProblem(element.current);
  }, [outcome.count]);

  const change = (next: (values: V) => V): void => setValues(next);
  const set = (path: string, value: unknown): void => {
    setValues((before) => withValueAt(before, path, value));
    setOutcome((before) => {
      if (before.errors[path] === undefined) return before;
      const { [path]: _gone, ...errors } = before.errors;
      return { ...before, errors };
    });
  };

  const refuse = (errors: FieldErrors, refusal: CallError | null): void => {
    tellRefusedForm();
    const atFields = Object.entries(errors).map(([path, reason]) => [
      boundPath(path, labels.current) ?? path,
      reason,
    ]);
    setOutcome((before) => ({ errors: Object.fromEntries(atFields), refusal, count: before.count + 1 }));
  };

  const submit = async (): Promise<void> => {
    if (busy) return;
    const problems = options.check?.(values) ?? {};
    if (Object.keys(problems).length > 0) {
      refuse(problems, null);
      return;
    }
    // The same values sent again are the same act: it may have happened although the answer was lost.
    const of = JSON.stringify(values);
    if (request.current?.of !== of) request.current = { id: newRequestId(), of };
    setBusy(true);
    const reply = await options.send(values, request.current.id);
    setBusy(false);
    if (!reply.ok) {
      const { field, message } = reply.error;
      const path = field && pathInForm(field, options.root);
      refuse(path ? { [options.fieldOf?.(path) ?? path]: message } : {}, reply.error);
      return;
    }
    release.current();
    request.current = null;
    discard();
    options.onSaved(reply.value);
  };

  const fieldId = (path: string): string => `form-${id}-${path.replaceAll(".", "-")}`;
  return {
    values,
    problems: Object.entries(outcome.errors).map(([path, reason]) => ({
      path,
      fieldId: labels.current.has(path) ? fieldId(path) : null,
      label: labels.current.get(path) ?? path,
      reason,
    })),
    refusal: outcome.refusal,
    busy,
    kept,
    set,
    change,
    bind: (path, label) => {
      labels.current.set(path, label);
      return {
        id: fieldId(path),
        label,
        value: String(valueAt(values, path) ?? ""),
        onChange: (value) => set(path, value),
        error: outcome.errors[path] ?? null,
      };
    },
    submit: () => void submit(),
    discard,
    element,
  };
}

/** The field that shows a problem at `path`: itself, or the nearest that holds it; null when there is none. */
function boundPath(path: string, labels: ReadonlyMap<string, string>): string | null {
  if (labels.has(path)) return path;
  const end = path.lastIndexOf(".");
  return end < 0 ? null : boundPath(path.slice(0, end), labels);
}

function focusFirstProblem(form: HTMLElement | null): void {
  const target =
    form?.querySelector<HTMLElement>("[aria-invalid='true'], [data-invalid='true'] input") ??
    form?.querySelector<HTMLElement>("[data-summary]");
  target?.focus();
}
