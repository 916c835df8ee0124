import { CategoryList } from "../records/category-list.ts";
import { CountMethod } from "../records/count-method.ts";
import { Method } from "../records/method.ts";

const VERSION = { familyId: true, version: true, definition: true } as const;

/** Versions of methods, count methods and category lists. */
export const METHOD_DETAILS = {
  "methods.define": { method: Method.pick(VERSION) },
  "countMethods.define": { count_method: CountMethod.pick(VERSION) },
  "categoryLists.define": { category_list: CategoryList.pick(VERSION) },
} as const;
