import { handlers } from "../../dispatch/handlers.ts";
import { lastSequence, rowsChangedSince } from "../../store/repositories/row-changes-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { rowsChanged } from "./row-journal.ts";
import { requireSheet } from "./sheets.ts";

export function rowChangeServices({ db }: Deps) {
  return handlers({
    "rows.changedSince": ({ sheetId, since }) => {
      const { objectiveId, intermediateMagnification } = requireSheet(db, sheetId);
      const sequence = lastSequence(db);
      const ids = since === null || since >= sequence ? [] : rowsChangedSince(db, sheetId, since);
      const changed = ids.length === 0 ? null : rowsChanged(db, sheetId, ids);
      return { sequence, objectiveId, intermediateMagnification, changed };
    },
  });
}
