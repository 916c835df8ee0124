const PREFIX = "linefall.typed.";

/** Keeps what is typed into a form for this window, over leaving, faults and reloads. */
export function keepTyped(form: string, values: object): void {
  sessionStorage.setItem(PREFIX + form, JSON.stringify(values));
}

/** What was typed into a form earlier and neither saved nor discarded. */
export function keptTyped<V extends object>(form: string): V | null {
  const text = sessionStorage.getItem(PREFIX + form);
  return text === null ? null : (JSON.parse(text) as V);
}

export function forgetKept(form: string): void {
  sessionStorage.removeItem(PREFIX + form);
}
