import { createHash } from "node:crypto";
import { basename } from "node:path";
import { headsInText, partsOfHead, type TrailHead, type VerifyReport } from "#core/contract/records/trail.ts";
import { signedHeadsInText } from "#core/contract/records/trail-signature.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { anchorText } from "../../store/bench-file/trail-anchor.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { hashAtLine, trailBefore, trailHeadOf } from "../../store/repositories/audit-trail.ts";
import { readTrailAhead, searchTrail } from "../../store/repositories/trail-search.ts";
import { writeBytesWhole } from "../../workbook/spreadsheet/write-file.ts";
import { compareHeads } from "../verification/known-heads.ts";
import { verifyBench } from "../verification/verify-bench.ts";
import type { FollowedTo } from "../verification/verify-trail.ts";
import type { Deps } from "../write-context/deps.ts";
import { mapWriteErrors, placeFor } from "../write-context/export-place.ts";
import type { LongCalls } from "../write-context/long-calls.ts";
import { compareSignatures } from "./head-signatures.ts";
import { signatureOf } from "./trail-signing.ts";

const STOPPED = {
  message: "Verifying was stopped before it was finished.",
  hint: "Nothing was changed. Verify again when there is time.",
};

/** The line with its hash; null where the trail has another hash there, or no such line. */
function lineToGoOnFrom(db: ReadableDb, head: TrailHead): FollowedTo | null {
  const { sequence, hash } = partsOfHead(head);
  return hashAtLine(db, sequence) === hash ? { sequence, hash } : null;
}

/** The report of the whole, with the line that was to be gone on from and is another by now named first. */
function withOtherLine(report: VerifyReport, head: TrailHead, db: ReadableDb): VerifyReport {
  const { sequence, hash } = partsOfHead(head);
  const stored = hashAtLine(db, sequence) ?? "no such line";
  const where = `trail line ${sequence}, as an earlier run followed it`;
  return { ...report, differences: [{ where, stored, expected: hash }, ...report.differences] };
}

export function trailServices(deps: Deps, longCalls: LongCalls) {
  let followedTo: TrailHead | null = null;
  return handlers({
    "trail.head": () => trailHeadOf(deps.db),

    "trail.saveHeads": async () => {
      const path = await mapWriteErrors(deps.paths.exportFolder, () => placeFor(deps, "trail-heads", ".txt"));
      if (path === null) return null;
      const [head, at] = [trailHeadOf(deps.db), deps.clock.now()];
      const noted =
        head === null ? null : { head, at, signature: await signatureOf(deps.db, deps.signer, head, at) };
      const text = Buffer.from(anchorText(deps.paths, noted));
      const bytes = await mapWriteErrors(path, async () => writeBytesWhole(path, text));
      const fileName = basename(path);
      const dataSha256 = createHash("sha256").update(text).digest("hex");
      return { fileName, path, bytes, dataSha256, download: deps.downloadAddress(fileName) };
    },

    "trail.page": ({ before, count, search }) => {
      if (search) return searchTrail(deps.db, before, count, search);
      // Whoever looks at its end may search it next. What could not be read ahead is read by the search, which says why.
      if (before === null) void readTrailAhead(deps.db).catch(() => undefined);
      return trailBefore(deps.db, before, count);
    },

    "trail.followedTo": () => followedTo,

    "trail.compareHeads": ({ noted }) => {
      const heads = headsInText(noted);
      if (heads.length === 0) {
        throw new Refusal("heads.none", "There is no line of the trail with its hash in this text.", {
          field: "noted",
          hint: "It stands as 412:9f86d081… on reports, in exports and in trail-heads.txt: at least eight digits of the hash.",
        });
      }
      const signatures = compareSignatures(deps.db, signedHeadsInText(noted));
      return { compared: heads.length, ...compareHeads(deps.db, heads), signatures };
    },

    // On a connection of its own, while entry goes on: each sheet as it is when its turn comes.
    "trail.verify": ({ requestId, from }) =>
      longCalls.follow(requestId, STOPPED, async (following) => {
        const { db, renew, close } = deps.snapshot();
        followedTo = null;
        const chain = {
          from: from === undefined ? null : lineToGoOnFrom(db, from),
          agrees({ sequence, hash }: FollowedTo) {
            if (sequence > 0) followedTo = `${sequence}:${hash}`;
          },
        };
        try {
          const report = await verifyBench(db, deps.paths.databaseFile, following, renew, chain);
          return from === undefined || chain.from ? report : withOtherLine(report, from, db);
        } finally {
          close();
        }
      }),
  });
}
