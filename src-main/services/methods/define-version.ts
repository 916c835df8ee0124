import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { Refusal, type RefusalCode } from "../../dispatch/refusals.ts";
import type { ReadableDb, WritableDb } from "../../store/connection.ts";
import { nameKey } from "../../store/name-key.ts";
import type { MethodVersion, VersionReader } from "../../store/repositories/method-versions.ts";
import type { Deps } from "../write-context/deps.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";

/** One kind of method: how a person calls it, where it is kept, what its definition must fulfil. */
export interface MethodKind<T extends MethodVersion> {
  readonly noun: "method" | "count method" | "category list";
  readonly unknown: RefusalCode;
  readonly taken: RefusalCode;
  readonly stored: VersionReader<T>;
  insert(db: WritableDb, method: T): void;
  /** The version as its record. */
  recordOf(version: Omit<MethodVersion, "definition">, definition: T["definition"]): T;
  /** @throws InputError at a field of the definition */
  check(definition: T["definition"]): void;
  /** What the trail is told of a new version. */
  eventOf(subjectId: string, detail: Pick<T, "familyId" | "version" | "definition">): TrailEvent;
}

/** @throws Refusal `unknown` of the kind */
export function requireVersion<T extends MethodVersion>(
  kind: MethodKind<T>,
  db: ReadableDb,
  id: string,
  field: string,
): T {
  const method = kind.stored.find(db, id);
  if (method) return method;
  throw new Refusal(kind.unknown, `That ${kind.noun} is not defined on this bench.`, {
    field,
    hint: `Define the ${kind.noun} first.`,
  });
}

function requireOwnName<T extends MethodVersion>(
  { noun, stored, taken }: MethodKind<T>,
  db: ReadableDb,
  name: string,
  familyId: string,
): void {
  const namesake = stored
    .listNewest(db)
    .find((one) => one.familyId !== familyId && nameKey(one.definition.name) === nameKey(name));
  if (!namesake) return;
  throw new Refusal(taken, `A ${noun} named ${namesake.definition.name} is defined already.`, {
    field: "definition.name",
    hint: "Give this one another name, or define the next version of the other.",
  });
}

/**
 * Defines a method, or the next version of the one that `familyId` names; the versions before it stay as they are.
 * @throws Refusal `unknown` or `taken` of the kind
 * @throws InputError at a field under `definition`
 */
export function defineVersion<T extends MethodVersion>(
  kind: MethodKind<T>,
  ids: Deps["ids"],
  { db, at, by, audit }: WriteContext,
  { familyId, definition }: { readonly familyId: string | null; readonly definition: T["definition"] },
): T {
  const before = familyId === null ? null : kind.stored.newestOfFamily(db, familyId);
  if (familyId !== null && !before) {
    throw new Refusal(kind.unknown, `There is no ${kind.noun} to make the next version of.`, {
      field: "familyId",
    });
  }
  const family = familyId ?? ids.next();
  requireOwnName(kind, db, definition.name, family);
  withFieldPrefix("definition", () => kind.check(definition));
  const version = (before?.version ?? 0) + 1;
  const method = kind.recordOf(
    { id: ids.next(), familyId: family, version, definedAt: at, definedBy: by.id },
    definition,
  );
  kind.insert(db, method);
  audit(kind.eventOf(method.id, { familyId: family, version, definition }));
  return method;
}
