/** A new identifier for one act; sent again unchanged when the same act is retried. */
export function newRequestId(): string {
  return crypto.randomUUID();
}
