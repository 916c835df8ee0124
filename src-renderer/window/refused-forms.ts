const listeners = new Set<() => void>();

/** Whoever wants to hear that a form was refused. @returns the end of it */
export function onRefusedForm(listener: () => void): () => void {
  listeners.add(listener);
  return () => void listeners.delete(listener);
}

/** A form was refused: told to the eye at its fields, and by this to whoever makes it heard. */
export function tellRefusedForm(): void {
  for (const listener of listeners) listener();
}
