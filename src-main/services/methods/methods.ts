import type { Method } from "#core/contract/records/method.ts";
import { requireMethodDefinition } from "#core/measurement/methods/method-check.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { insertMethod, storedMethods } from "../../store/repositories/method-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";
import { defineVersion, type MethodKind, requireVersion } from "./define-version.ts";

const METHODS: MethodKind<Method> = {
  noun: "method",
  unknown: "method.unknown",
  taken: "method.taken",
  stored: storedMethods,
  insert: insertMethod,
  recordOf: (version, definition) => ({ ...version, definition }),
  check: requireMethodDefinition,
  eventOf: (subjectId, detail) => ({ act: "methods.define", subject: "method", subjectId, detail }),
};

/** @throws Refusal `method.unknown` */
export function requireMethod(db: ReadableDb, id: string, field: string): Method {
  return requireVersion(METHODS, db, id, field);
}

export function methodServices(deps: Deps) {
  return handlers({
    "methods.list": () => storedMethods.listNewest(deps.db),

    "methods.get": ({ methodId }) => requireMethod(deps.db, methodId, "methodId"),

    "methods.define": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => defineVersion(METHODS, deps.ids, ctx, input),
        storedMethods.find,
      ),
  });
}
