import { randomUUID } from "node:crypto";

/** Makes identifiers that are unique on this bench. */
export interface Ids {
  next(): string;
}

/** Random UUIDs (RFC 9562 version 4). */
export const randomIds: Ids = { next: () => randomUUID() };
