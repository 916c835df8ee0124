import type { CountMethod } from "#core/contract/records/count-method.ts";
import { requireCountMethod } from "#core/counting/methods/count-method-check.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { insertCountMethod, storedCountMethods } from "../../store/repositories/count-method-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";
import { defineVersion, type MethodKind, requireVersion } from "./define-version.ts";

const COUNT_METHODS: MethodKind<CountMethod> = {
  noun: "count method",
  unknown: "countMethod.unknown",
  taken: "countMethod.taken",
  stored: storedCountMethods,
  insert: insertCountMethod,
  recordOf: (version, definition) => ({ ...version, definition }),
  check: requireCountMethod,
  eventOf: (subjectId, detail) => ({
    act: "countMethods.define",
    subject: "count_method",
    subjectId,
    detail,
  }),
};

/** @throws Refusal `countMethod.unknown` */
export function requireCountMethodById(db: ReadableDb, id: string, field: string): CountMethod {
  return requireVersion(COUNT_METHODS, db, id, field);
}

export function countMethodServices(deps: Deps) {
  return handlers({
    "countMethods.list": () => storedCountMethods.listNewest(deps.db),

    "countMethods.get": ({ countMethodId }) =>
      requireCountMethodById(deps.db, countMethodId, "countMethodId"),

    "countMethods.define": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => defineVersion(COUNT_METHODS, deps.ids, ctx, input),
        storedCountMethods.find,
      ),
  });
}
