import { createHash } from "node:crypto";
import { basename } from "node:path";
import { headsInText } from "#core/contract/records/trail.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { anchorText } from "../../store/bench-file/trail-anchor.ts";
import { trailBefore, trailHeadOf } from "../../store/repositories/audit-trail.ts";
import { searchTrail } from "../../store/repositories/trail-search.ts";
import { writeBytesWhole } from "../../workbook/spreadsheet/write-file.ts";
import { compareHeads } from "../verification/known-heads.ts";
import { verifyBench } from "../verification/verify-bench.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";
import type { LongCalls } from "../write-context/long-calls.ts";

type Calls = "trail.page" | "trail.verify" | "trail.head" | "trail.saveHeads" | "trail.compareHeads";

const STOPPED = {
  message: "Verifying was stopped before it was finished.",
  hint: "Nothing was changed. Verify again when there is time.",
};

export function trailServices(deps: Deps, longCalls: LongCalls): HandlersOf<Calls> {
  return {
    "trail.head": () => trailHeadOf(deps.db),

    "trail.saveHeads": async () => {
      const path = await mapWriteErrors(deps.paths.exportFolder, () => placeFor(deps, "trail-heads", ".txt"));
      if (path === null) return null;
      const text = Buffer.from(anchorText(deps.paths, trailHeadOf(deps.db), deps.clock.now()));
      const bytes = await mapWriteErrors(path, async () => writeBytesWhole(path, text));
      const fileName = basename(path);
      const dataSha256 = createHash("sha256").update(text).digest("hex");
      return { fileName, path, bytes, dataSha256, download: deps.downloadAddress(fileName) };
    },

    "trail.page": ({ before, count, search }) =>
      search ? searchTrail(deps.db, before, count, search) : trailBefore(deps.db, before, count),

    "trail.compareHeads": ({ noted }) => {
      const heads = headsInText(noted);
      if (heads.length === 0) {
        throw new Refusal("heads.none", "There is no line of the trail with its hash in this text.", {
          field: "noted",
          hint: "It stands as 412:9f86d081… on reports, in exports and in trail-heads.txt: at least eight digits of the hash.",
        });
      }
      return { compared: heads.length, ...compareHeads(deps.db, heads) };
    },

    // On a connection of its own, while entry goes on: each sheet as it is when its turn comes.
    "trail.verify": ({ requestId }) =>
      longCalls.follow(requestId, STOPPED, async (following) => {
        const { db, renew, close } = deps.snapshot();
        try {
          return await verifyBench(db, deps.paths.databaseFile, following, renew);
        } finally {
          close();
        }
      }),
  };
}
