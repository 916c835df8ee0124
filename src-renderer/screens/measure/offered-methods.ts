import type { Client } from "#core/contract/calls.ts";
import type { Method, MethodDefinition } from "#core/contract/records/method.ts";
import type { Reply } from "#core/contract/reply.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";

/** A method that a sheet can follow: one of the bench, or a ready one that the bench takes over when it is used. */
export interface OfferedMethod {
  readonly id: string;
  /** Null for a ready method that the bench has not taken over. */
  readonly method: Method | null;
  readonly definition: MethodDefinition;
  /** Where a ready method comes from and what to mind; empty for one of the bench. */
  readonly cautions: readonly string[];
}

/** Methods of the bench first, then the ready ones that it has not taken over under their name. */
export function offeredMethods(methods: readonly Method[]): readonly OfferedMethod[] {
  const own = methods.map((method) => ({
    id: method.id,
    method,
    definition: method.definition,
    cautions: [],
  }));
  const names = new Set(methods.map(({ definition }) => definition.name.toLowerCase()));
  const ready = READY_METHODS.filter(({ definition }) => !names.has(definition.name.toLowerCase()));
  return [
    ...own,
    ...ready.map(({ id, definition, source, cautions }) => ({
      id: `ready ${id}`,
      method: null,
      definition,
      cautions: [`Source: ${source}.`, ...cautions],
    })),
  ];
}

/** The id of an offered method on the bench; a ready one is defined first, once however often it is asked. */
export async function methodIdOf(
  client: Client,
  { method, definition }: OfferedMethod,
  requestId: string,
): Promise<Reply<string>> {
  if (method) return { ok: true, value: method.id };
  const defined = await client("methods.define", {
    requestId: `${requestId.slice(0, 50)}-method`,
    familyId: null,
    definition,
  });
  return defined.ok ? { ok: true, value: defined.value.id } : defined;
}
