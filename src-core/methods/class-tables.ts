import type { ClassTable } from "./class-table.ts";
import { POLLEN_SHAPE_CLASSES } from "./pollen-shape-classes.ts";
import { POLLEN_SIZE_CLASSES, POLLEN_SIZE_CLASSES_FIVE } from "./pollen-size-classes.ts";
import { SPORE_QUOTIENT_CLASSES } from "./spore-quotient-classes.ts";

/** Tables that a measured or derived quantity of one object can be put into. */
export const OBJECT_CLASS_TABLES: readonly ClassTable[] = [
  POLLEN_SHAPE_CLASSES,
  POLLEN_SIZE_CLASSES,
  POLLEN_SIZE_CLASSES_FIVE,
  SPORE_QUOTIENT_CLASSES,
];

/** Null for a table this program does not have. */
export function objectClassTable(id: string): ClassTable | null {
  return OBJECT_CLASS_TABLES.find((table) => table.id === id) ?? null;
}
