import type { CountEvent } from "#core/contract/records/count.ts";
import { TrailLine } from "#core/contract/records/trail.ts";
import type { PrintedHead } from "#core/contract/records/trail-signature.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { attachmentsOfCount } from "../../store/repositories/attachment-repository.ts";
import { trailOf } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { eventsFrom, fieldsOfCount } from "../../store/repositories/count-event-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { listPeople } from "../../store/repositories/people-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import type { CountBundle } from "../../workbook/count-book/count-bundle-type.ts";
import { requireCount, resultsOfCount, secondsCounted } from "../counts/count-lookup.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";
import { unprovenLines } from "../practice/unproven.ts";
import { calibrationWork, overdueLines } from "../records/overdue-uses.ts";
import { statedReturns } from "../records/stated-returns.ts";
import { printedHead } from "../records/trail-signing.ts";
import type { Deps } from "../write-context/deps.ts";

/** Events read at a time: few statements, little memory. */
const PAGE = 1000;

function* eventsOf(db: ReadableDb, countId: string): Generator<CountEvent> {
  for (let from = 1; ; ) {
    const page = eventsFrom(db, countId, from, PAGE);
    yield* page;
    const last = page.at(-1);
    if (!last || page.length < PAGE) return;
    from = last.sequence + 1;
  }
}

/** @throws Refusal `count.unknown` */
function loadCountBundle(db: ReadableDb, countId: string, deps: Deps, head: PrintedHead): CountBundle {
  const count = requireCount(db, countId);
  const asOf = deps.clock.now();
  const calibration = count.calibrationId === null ? null : findCalibration(db, count.calibrationId);
  const micrometer = calibration ? findMicrometer(db, calibration.stageMicrometerId) : null;
  return {
    count,
    method: requireCountMethodById(db, count.countMethodId, "countMethodId"),
    results: count.results ?? resultsOfCount(db, count, secondsCounted(count, asOf)),
    fields: fieldsOfCount(db, count.id, count.currentField),
    pictures: attachmentsOfCount(db, count.id),
    events: () => eventsOf(db, count.id),
    people: listPeople(db),
    microscope: count.train ? findMicroscope(db, count.train.microscopeId) : null,
    train: count.trainId === null ? null : findTrain(db, count.trainId),
    calibration,
    stageMicrometer: micrometer,
    certificate: micrometer?.certificates.find((one) => one.id === calibration?.certificateId) ?? null,
    unproven: unprovenLines(db, "count", count.id),
    overdue: overdueLines(db, [
      { work: "count", workId: count.id },
      ...(calibration ? [calibrationWork(calibration)] : []),
    ]),
    statedReturns: statedReturns(db, calibration ? [calibration] : [])
      .filter(({ on }) => on <= (count.closedAt ?? asOf).slice(0, 10))
      .map(({ words }) => words),
    trail: trailOf(db, count.id).map((line) => TrailLine.parse(line)),
    ...head,
    program: { name: deps.program.name, version: deps.program.version },
    asOf,
  };
}

/**
 * Reads everything about one count from one snapshot of the bench and lends it to `use`: what is pressed meanwhile does
 * not show in it. The bundle is not to be kept beyond `use`.
 * @throws Refusal `count.unknown`, and what `use` throws
 */
export async function withCountBundle<T>(
  deps: Deps,
  countId: string,
  use: (bundle: CountBundle) => Promise<T>,
): Promise<T> {
  const snapshot = deps.snapshot();
  try {
    return await use(loadCountBundle(snapshot.db, countId, deps, await printedHead(deps, snapshot.db)));
  } finally {
    snapshot.close();
  }
}
