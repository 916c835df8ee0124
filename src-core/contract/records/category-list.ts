import { z } from "zod";
import { CountCategory, MOST_CATEGORIES } from "./count-method.ts";
import { Id, Instant, Name, Note } from "./primitives.ts";

/** What a laboratory counts by: taxa with their codes, groups, sums and keys, to be taken over by methods and counts. */
export const CategoryListDefinition = z.strictObject({
  name: Name,
  categories: z.array(CountCategory).min(1, "needs at least one category").max(MOST_CATEGORIES),
  note: Note,
});
export type CategoryListDefinition = z.infer<typeof CategoryListDefinition>;

/** A list never changes: a change makes the next version, and counts keep what they were opened with. */
export const CategoryList = z.strictObject({
  id: Id,
  /** Shared by the versions of one list. */
  familyId: Id,
  version: z.int().min(1),
  definition: CategoryListDefinition,
  definedAt: Instant,
  definedBy: Id,
});
export type CategoryList = z.infer<typeof CategoryList>;
