import type { CountMethod, CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { READY_COUNT_METHODS } from "#core/counting/methods/ready-count-methods.ts";

/** A method that a count can follow: one of the bench, or a ready one that the bench takes over when it is used. */
export interface OfferedMethod {
  readonly id: string;
  /** Null for a ready method that the bench has not taken over. */
  readonly method: CountMethod | null;
  readonly definition: CountMethodDefinition;
}

/** Methods of the bench first, then the ready ones that it has not taken over under their name. */
export function offeredMethods(methods: readonly CountMethod[]): readonly OfferedMethod[] {
  const own = methods.map((method) => ({ id: method.id, method, definition: method.definition }));
  const names = new Set(methods.map(({ definition }) => definition.name.toLowerCase()));
  const ready = READY_COUNT_METHODS.filter(({ definition }) => !names.has(definition.name.toLowerCase()));
  return [...own, ...ready.map(({ id, definition }) => ({ id: `ready ${id}`, method: null, definition }))];
}
