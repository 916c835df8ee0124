import type { TrailHead, VerifyReport } from "#core/contract/records/trail.ts";
import { type Following, UNFOLLOWED } from "../../long-work/following.ts";
import { createYielder } from "../../long-work/yield-to-events.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { Differences } from "./differences.ts";
import { TrailIndex } from "./trail-index.ts";
import { verifyActs } from "./verify-acts.ts";
import { verifyCalibrations } from "./verify-calibrations.ts";
import { verifyCounts } from "./verify-counts.ts";
import { verifyMeasurements } from "./verify-measurements.ts";
import { verifyReadIns } from "./verify-read-in.ts";
import { verifyRowsThere } from "./verify-rows-by-trail.ts";
import { verifySecondReadings } from "./verify-second-readings.ts";
import { verifySizeHistories } from "./verify-size-histories.ts";
import { verifyReplacedResults } from "./verify-superseded.ts";
import { verifyAttachments, verifyChecks, verifySignOffs, verifySuperseded } from "./verify-traceability.ts";
import { type Chain, verifyTrail, WHOLE_CHAIN } from "./verify-trail.ts";

/** The parts below, and the acts of the trail. */
const PARTS = 14;

/**
 * Recomputes every result of a bench from its readings, follows every hash, and compares what is stored with what the
 * trail tells. Reads only; makes way for other work.
 * @param databaseFile where the bench lies: its attachments are beside it
 * @param renew looks at the bench as it is then: called between parts, between sheets and along the trail, so that
 *   nothing is compared across it and the -wal file is not held for as long as all of it takes
 * @param chain where the trail is followed from; the whole of it unless a line was followed to before
 * @throws the reason of the signal once it is given
 */
export async function verifyBench(
  db: ReadableDb,
  databaseFile: string,
  { signal, tell }: Following = UNFOLLOWED,
  renew: () => void = () => undefined,
  chain: Chain = WHOLE_CHAIN,
): Promise<VerifyReport> {
  const differences = new Differences();
  let followedTo: TrailHead | null = null;
  const followed: Chain = {
    from: chain.from,
    agrees(to) {
      if (to.sequence > 0) followedTo = `${to.sequence}:${to.hash}`;
      chain.agrees(to);
    },
  };
  const pause = createYielder();
  const yieldToEvents = (): Promise<void> | undefined => {
    signal.throwIfAborted();
    return pause();
  };
  let done = 0;
  /** What cannot even be read is a difference, and the rest is verified all the same. */
  async function part<T>(what: string, verify: () => Promise<T>, nothing: T, look = renew): Promise<T> {
    tell({ part: what, done, parts: PARTS });
    done += 1;
    look();
    try {
      return await verify();
    } catch (error) {
      signal.throwIfAborted();
      differences.addUnreadable(what, error);
      return nothing;
    }
  }
  const trailLines = await part(
    "audit trail",
    () => verifyTrail(db, differences, yieldToEvents, renew, followed),
    0,
  );
  await part("what was read in", () => verifyReadIns(db, differences, yieldToEvents), undefined);
  const calibrations = await part(
    "calibrations",
    () => verifyCalibrations(db, differences, yieldToEvents),
    0,
  );
  const measurements = await part(
    "rows of sheets",
    () => verifyMeasurements(db, differences, yieldToEvents, renew),
    0,
  );
  await part("rows of sheets", () => verifyRowsThere(db, differences, yieldToEvents, renew), undefined);
  await part("second readings", () => verifySecondReadings(db, differences, yieldToEvents), undefined);
  await part(
    "histories of labels",
    () => verifySizeHistories(db, differences, yieldToEvents, renew),
    undefined,
  );
  const counts = await part("counts", () => verifyCounts(db, differences, yieldToEvents), 0);
  const attachments = await part(
    "attachments",
    () => verifyAttachments(db, databaseFile, differences, yieldToEvents),
    0,
  );
  const checks = await part("checks", () => verifyChecks(db, differences, yieldToEvents), 0);
  const signOffs = await part("sign-offs", () => verifySignOffs(db, differences, yieldToEvents), 0);
  const supersededResults = await part(
    "replaced results",
    () => verifySuperseded(db, differences, yieldToEvents),
    0,
  );
  tell({ part: "acts of the trail", done, parts: PARTS });
  renew();
  const acts = await TrailIndex.read(db, yieldToEvents);
  // The acts read above stand for the bench as it was then.
  const asRead = (): void => undefined;
  await part(
    "replaced results",
    () => verifyReplacedResults(db, acts, differences, yieldToEvents),
    undefined,
    asRead,
  );
  await verifyActs(db, acts, differences, yieldToEvents);
  return {
    trailLines,
    wentOnFrom: chain.from?.sequence ?? null,
    followedTo,
    measurements,
    calibrations,
    counts,
    attachments,
    checks,
    signOffs,
    supersededResults,
    differences: differences.listed,
    more: differences.more,
  };
}
