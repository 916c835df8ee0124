import type { Method } from "#core/contract/records/method.ts";
import { requireMethodDefinition } from "#core/methods/method-check.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import type { ReadableDb } from "../store/connection.ts";
import { findMethod, insertMethod, listNewestMethods, newestOfFamily } from "../store/method-repository.ts";
import { nameKey } from "../store/name-key.ts";
import { actOnce } from "./act.ts";
import type { Deps } from "./deps.ts";
import { under } from "./typed-input.ts";

/** @throws Refusal `method.unknown` */
export function requireMethod(db: ReadableDb, id: string, field: string): Method {
  const method = findMethod(db, id);
  if (method) return method;
  throw new Refusal("method.unknown", "That method is not defined on this bench.", {
    field,
    hint: "Define the method first.",
  });
}

function requireOwnName(db: ReadableDb, name: string, familyId: string): void {
  const namesake = listNewestMethods(db).find(
    (method) => method.familyId !== familyId && nameKey(method.definition.name) === nameKey(name),
  );
  if (!namesake) return;
  throw new Refusal("method.taken", `A method named ${namesake.definition.name} is defined already.`, {
    field: "definition.name",
    hint: "Give this one another name, or define the next version of the other.",
  });
}

export function methodServices(deps: Deps): HandlersOf<"methods.list" | "methods.get" | "methods.define"> {
  return {
    "methods.list": () => listNewestMethods(deps.db),

    "methods.get": ({ methodId }) => requireMethod(deps.db, methodId, "methodId"),

    "methods.define": (input) =>
      actOnce(
        deps,
        "methods.define",
        input,
        ({ db, at, by, note }) => {
          const { familyId, definition } = input;
          const before = familyId === null ? null : newestOfFamily(db, familyId);
          if (familyId !== null && !before) {
            throw new Refusal("method.unknown", "There is no method to make the next version of.", {
              field: "familyId",
            });
          }
          const family = familyId ?? deps.ids.next();
          requireOwnName(db, definition.name, family);
          under("definition", () => requireMethodDefinition(definition));
          const method: Method = {
            id: deps.ids.next(),
            familyId: family,
            version: (before?.version ?? 0) + 1,
            definition,
            definedAt: at,
            definedBy: by.id,
          };
          insertMethod(db, method);
          note({
            subject: "method",
            subjectId: method.id,
            detail: { familyId: family, version: method.version, definition },
          });
          return method;
        },
        findMethod,
      ),
  };
}
