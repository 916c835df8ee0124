import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { measuredRowIds, pageOfRows } from "../../store/repositories/row-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { requireSheet } from "./sheets.ts";

function candidateAt(db: ReadableDb, sheetId: string, ordinal: number) {
  const [row] = pageOfRows(db, sheetId, ordinal, 1);
  if (row?.ordinal !== ordinal || row.struck !== null) return null;
  const isMeasured = row.measurements.some((one) => one.divisions !== null);
  return isMeasured ? { rowId: row.id, ordinal, label: row.label } : null;
}

/** Which rows a second reader may be given, without what was read of them. */
export function secondReadingCandidateServices(deps: Deps) {
  return handlers({
    "secondReadings.candidates": ({ sheetId, ordinals }) => {
      requireSheet(deps.db, sheetId);
      const found = [...new Set(ordinals)].map((ordinal) => ({
        ordinal,
        row: candidateAt(deps.db, sheetId, ordinal),
      }));
      return {
        measured: measuredRowIds(deps.db, sheetId).length,
        rows: found.flatMap(({ row }) => row ?? []),
        notThere: found.flatMap(({ ordinal, row }) => (row ? [] : [ordinal])),
      };
    },
  });
}
