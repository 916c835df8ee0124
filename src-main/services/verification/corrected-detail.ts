interface Line {
  readonly act: string;
  readonly detail: unknown;
}

/**
 * The fields of a record as it was registered, with what was corrected since by the later lines about it.
 * @param lines of the record, oldest first; a detail may still be JSON text
 */
export function correctedBy<F extends Readonly<Record<string, unknown>>>(
  registered: F,
  lines: readonly Line[],
): F {
  const changes = lines
    .filter(({ act }) => act === "records.correct")
    .map(({ detail }) => (typeof detail === "string" ? JSON.parse(detail) : detail))
    .map(({ field, after }) => ({ [field]: field === "customer" && after === "" ? null : after }));
  return Object.assign({}, registered, ...changes);
}
