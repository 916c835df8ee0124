import type { ParsedInput } from "#core/contract/calls.ts";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import type { CountCategory } from "#core/contract/records/count-method.ts";
import { requireCategories } from "#core/counting/methods/count-method-check.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  insertCategoryList,
  openCountsByList,
  storedCategoryLists,
} from "../../store/repositories/category-list-repository.ts";
import { findCount, updateCount } from "../../store/repositories/count-repository.ts";
import { defineVersion, type MethodKind, requireVersion } from "../methods/define-version.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";

const CATEGORY_LISTS: MethodKind<CategoryList> = {
  noun: "category list",
  unknown: "categoryList.unknown",
  taken: "categoryList.taken",
  stored: storedCategoryLists,
  insert: insertCategoryList,
  recordOf: (version, definition) => ({ ...version, definition }),
  check: ({ categories }) => requireCategories(categories),
  eventOf: (subjectId, detail) => ({
    act: "categoryLists.define",
    subject: "category_list",
    subjectId,
    detail,
  }),
};

/** @throws Refusal `categoryList.unknown` */
export function requireCategoryList(db: ReadableDb, id: string, field: string): CategoryList {
  return requireVersion(CATEGORY_LISTS, db, id, field);
}

/** New names by the key of a category that had another one. */
function renamedSince(
  before: readonly CountCategory[],
  after: readonly CountCategory[],
): Map<string, string> {
  const was = new Map(before.map(({ key, name }) => [key, name]));
  return new Map(
    after.flatMap(({ key, name }) => (was.has(key) && was.get(key) !== name ? [[key, name] as const] : [])),
  );
}

/** Renames categories in the open counts of a list, each by a line of its own trail with both names. */
function carryNames(
  { db, audit }: WriteContext,
  list: CategoryList,
  before: CategoryList | null,
  reason: string,
): void {
  const renamed = renamedSince(before?.definition.categories ?? [], list.definition.categories);
  if (renamed.size === 0) return;
  for (const id of openCountsByList(db, list.familyId)) {
    const count = findCount(db, id);
    if (!count) throw new Error(`count ${id} is missing`);
    const from = count.categories;
    const to = from.map((one) => ({ ...one, name: renamed.get(one.key) ?? one.name }));
    if (to.every(({ name }, i) => name === from[i]?.name)) continue;
    updateCount(db, { ...count, categories: to });
    audit({
      act: "counts.changeCategories",
      subject: "count",
      subjectId: id,
      reason,
      detail: { categories: { from, to } },
    });
  }
}

function define(
  ctx: WriteContext,
  ids: Deps["ids"],
  input: ParsedInput<"categoryLists.define">,
): CategoryList {
  const { familyId, carryNames: carried } = input;
  const before = familyId === null ? null : storedCategoryLists.newestOfFamily(ctx.db, familyId);
  const list = defineVersion(CATEGORY_LISTS, ids, ctx, input);
  if (carried) carryNames(ctx, list, before, carried.reason);
  return list;
}

export function categoryListServices(deps: Deps) {
  return handlers({
    "categoryLists.list": () => storedCategoryLists.listNewest(deps.db),
    "categoryLists.define": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => define(ctx, deps.ids, input), storedCategoryLists.find),
  });
}
