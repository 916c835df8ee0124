import type { CountMethod } from "#core/contract/records/count-method.ts";
import { requireCountMethod } from "#core/counting/count-method-check.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import type { ReadableDb } from "../store/connection.ts";
import {
  findCountMethod,
  insertCountMethod,
  listNewestCountMethods,
  newestOfCountFamily,
} from "../store/count-method-repository.ts";
import { nameKey } from "../store/name-key.ts";
import { actOnce } from "./act.ts";
import type { Deps } from "./deps.ts";
import { under } from "./typed-input.ts";

type Calls = "countMethods.list" | "countMethods.get" | "countMethods.define";

/** @throws Refusal `countMethod.unknown` */
export function requireMethodOfCount(db: ReadableDb, id: string, field: string): CountMethod {
  const method = findCountMethod(db, id);
  if (method) return method;
  throw new Refusal("countMethod.unknown", "That count method is not defined on this bench.", {
    field,
    hint: "Define the count method first.",
  });
}

function requireOwnName(db: ReadableDb, name: string, familyId: string): void {
  const namesake = listNewestCountMethods(db).find(
    (method) => method.familyId !== familyId && nameKey(method.definition.name) === nameKey(name),
  );
  if (!namesake) return;
  throw new Refusal(
    "countMethod.taken",
    `A count method named ${namesake.definition.name} is defined already.`,
    {
      field: "definition.name",
      hint: "Give this one another name, or define the next version of the other.",
    },
  );
}

export function countMethodServices(deps: Deps): HandlersOf<Calls> {
  return {
    "countMethods.list": () => listNewestCountMethods(deps.db),

    "countMethods.get": ({ countMethodId }) => requireMethodOfCount(deps.db, countMethodId, "countMethodId"),

    "countMethods.define": (input) =>
      actOnce(
        deps,
        "countMethods.define",
        input,
        ({ db, at, by, note }) => {
          const { familyId, definition } = input;
          const before = familyId === null ? null : newestOfCountFamily(db, familyId);
          if (familyId !== null && !before) {
            throw new Refusal(
              "countMethod.unknown",
              "There is no count method to make the next version of.",
              { field: "familyId" },
            );
          }
          const family = familyId ?? deps.ids.next();
          requireOwnName(db, definition.name, family);
          under("definition", () => requireCountMethod(definition));
          const method: CountMethod = {
            id: deps.ids.next(),
            familyId: family,
            version: (before?.version ?? 0) + 1,
            definition,
            definedAt: at,
            definedBy: by.id,
          };
          insertCountMethod(db, method);
          note({
            subject: "count_method",
            subjectId: method.id,
            detail: { familyId: family, version: method.version, definition },
          });
          return method;
        },
        findCountMethod,
      ),
  };
}
