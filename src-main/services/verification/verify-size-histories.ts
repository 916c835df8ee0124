import type { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listSheets } from "../../store/repositories/sheet-repository.ts";
import {
  type WrongCount,
  wrongCountsOfFamilies,
  wrongCountsOfSheet,
} from "../../store/repositories/size-history-repository.ts";
import type { Differences } from "./differences.ts";

function addWrong(
  differences: Differences,
  where: string,
  { label, dimension, kept, counted }: WrongCount,
): void {
  differences.add(`${where}, history of ${label}, ${dimension}`, kept, counted);
}

/** Counts the sizes behind the history of every label again. */
export async function verifySizeHistories(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: ReturnType<typeof createYielder>,
  renew: () => void,
): Promise<void> {
  for (const sheet of listSheets(db)) {
    for (const wrong of wrongCountsOfSheet(db, sheet.id))
      addWrong(differences, `sheet ${sheet.number}`, wrong);
    await yieldToEvents();
    renew();
  }
  for (const wrong of wrongCountsOfFamilies(db)) addWrong(differences, "all sheets of a method", wrong);
}
