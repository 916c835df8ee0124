import type { TallyEvent } from "#core/contract/records/tally.ts";
import { TrailLine } from "#core/contract/records/trail.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { trailHeadOf, trailOf } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { eventsFrom, fieldsOfTally } from "../../store/repositories/tally-event-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import type { TallyBundle } from "../../workbook/count-book/tally-bundle-type.ts";
import { requireTally, resultsOfTally, secondsCounted } from "../counts/tally-ground.ts";
import { requireMethodOfCount } from "../methods/count-methods.ts";
import type { Deps } from "../write-context/deps.ts";

/** Events read at a time: few statements, little memory. */
const PAGE = 1000;

function* eventsOf(db: ReadableDb, tallyId: string): Generator<TallyEvent> {
  for (let from = 1; ; ) {
    const page = eventsFrom(db, tallyId, from, PAGE);
    yield* page;
    const last = page.at(-1);
    if (!last || page.length < PAGE) return;
    from = last.sequence + 1;
  }
}

/** @throws Refusal `tally.unknown` */
function loadTallyBundle(db: ReadableDb, tallyId: string, deps: Deps): TallyBundle {
  const tally = requireTally(db, tallyId);
  const asOf = deps.clock.now();
  const calibration = tally.calibrationId === null ? null : findCalibration(db, tally.calibrationId);
  const micrometer = calibration ? findMicrometer(db, calibration.stageMicrometerId) : null;
  return {
    tally,
    method: requireMethodOfCount(db, tally.countMethodId, "countMethodId"),
    results: tally.results ?? resultsOfTally(db, tally, secondsCounted(tally, asOf)),
    fields: fieldsOfTally(db, tally.id, tally.currentField),
    events: () => eventsOf(db, tally.id),
    people: listPeople(db),
    microscope: tally.train ? findMicroscope(db, tally.train.microscopeId) : null,
    train: tally.trainId === null ? null : findTrain(db, tally.trainId),
    calibration,
    stageMicrometer: micrometer,
    certificate: micrometer?.certificates.find((one) => one.id === calibration?.certificateId) ?? null,
    trail: trailOf(db, tally.id).map((line) => TrailLine.parse(line)),
    trailHead: trailHeadOf(db),
    program: { name: deps.program.name, version: deps.program.version },
    asOf,
  };
}

/**
 * Reads everything about one count from one snapshot of the bench and lends it to `use`: what is pressed meanwhile does
 * not show in it. The bundle is not to be kept beyond `use`.
 * @throws Refusal `tally.unknown`, and what `use` throws
 */
export async function withTallyBundle<T>(
  deps: Deps,
  tallyId: string,
  use: (bundle: TallyBundle) => Promise<T>,
): Promise<T> {
  const snapshot = deps.snapshot();
  try {
    return await use(loadTallyBundle(snapshot.db, tallyId, deps));
  } finally {
    snapshot.close();
  }
}
