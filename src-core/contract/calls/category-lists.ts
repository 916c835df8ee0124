import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { CategoryList, CategoryListDefinition } from "../records/category-list.ts";
import { Id, Reason, RequestId } from "../records/primitives.ts";

export const categoryListCalls = {
  /** The newest version of every list. */
  "categoryLists.list": call({
    kind: "read",
    reads: ["category lists"],
    input: Nothing,
    output: z.array(CategoryList),
    errors: [],
  }),
  /**
   * Defines a list, or the next version of one when `familyId` is given. With `carryNames` a category renamed since the
   * version before is renamed in every count by this list that is not closed, as an amendment with its reason.
   */
  "categoryLists.define": call({
    kind: "write",
    changes: ["category lists", "counts", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      familyId: Id.nullable(),
      definition: CategoryListDefinition,
      carryNames: z.strictObject({ reason: Reason }).nullable(),
    }),
    output: CategoryList,
    errors: ["person.missing", "categoryList.unknown", "categoryList.taken"],
  }),
} as const;
