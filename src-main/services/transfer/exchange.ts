import { join } from "node:path";
import { handlers } from "../../dispatch/handlers.ts";
import { createUploadStore } from "../../exchange/upload-store.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors } from "../write-context/export-place.ts";
import type { LongCalls } from "../write-context/long-calls.ts";
import { documentServices } from "./documents.ts";
import { checkExportedFile } from "./exchange-check.ts";
import type { ExportRegister } from "./export-register.ts";
import { importServices } from "./imports.ts";
import { reportServices } from "./reports.ts";

const STOPPED = {
  message: "Checking was stopped before it was finished.",
  hint: "The file and the bench are as they were. Choose the file again when there is time.",
};

/** Files that come in: part by part, then checked or imported; and the report page. */
export function exchangeServices(deps: Deps, longCalls: LongCalls, register: ExportRegister) {
  const folder = join(deps.paths.dataFolder, "incoming");
  const uploads = createUploadStore(folder, deps.ids);
  return handlers({
    "uploads.begin": ({ fileName, bytes }) => mapWriteErrors(folder, () => uploads.begin(fileName, bytes)),
    "uploads.part": ({ uploadId, offset, base64 }) =>
      mapWriteErrors(folder, () => uploads.add(uploadId, offset, base64)),
    "uploads.forget": async ({ uploadId }) => {
      await uploads.forget(uploadId);
      return {};
    },
    "exchange.check": ({ uploadId, requestId }) => {
      const file = uploads.finished(uploadId);
      return longCalls.follow(requestId, STOPPED, (following) => checkExportedFile(deps, file, following));
    },
    ...importServices(deps, uploads),
    ...documentServices(deps, uploads),
    ...reportServices(deps, register),
  });
}
