import { calls, changedBy, isCallName } from "#core/contract/calls.ts";
import { type ChangeLog, createChangeLog } from "./dispatch/change-log.ts";
import { createDispatcher, type Dispatch } from "./dispatch/dispatcher.ts";
import { type FaultLog, openFaultLog } from "./dispatch/fault-log.ts";
import type { Handlers } from "./dispatch/handlers.ts";
import type { Program, ProgramOptions } from "./program.ts";
import { backupServices } from "./services/backups/backups.ts";
import { benchFileServices } from "./services/backups/bench-files.ts";
import { createDailyBackup } from "./services/backups/daily-backup.ts";
import { createFileCheck, type FileCheck } from "./services/backups/file-check.ts";
import { tellOfSwap } from "./services/backups/swap-in-trail.ts";
import { assessmentServices } from "./services/calibration/assessments.ts";
import { calibrationServices } from "./services/calibration/calibrations.ts";
import { checkServices } from "./services/calibration/checks.ts";
import { confirmationServices } from "./services/calibration/confirmations.ts";
import { categoryListServices } from "./services/counts/category-lists.ts";
import { countServices } from "./services/counts/counts.ts";
import { recountServices } from "./services/counts/recounts.ts";
import { attachmentServices } from "./services/equipment/attachments.ts";
import { certificateServices } from "./services/equipment/certificates.ts";
import { eventServices } from "./services/equipment/events.ts";
import { micrometerServices } from "./services/equipment/micrometers.ts";
import { microscopeServices } from "./services/equipment/microscopes.ts";
import { serviceStateServices } from "./services/equipment/service-states.ts";
import { countMethodServices } from "./services/methods/count-methods.ts";
import { methodServices } from "./services/methods/methods.ts";
import { benchServices } from "./services/overview/bench.ts";
import { dueWorkServices } from "./services/overview/due-work.ts";
import { laboratoryServices } from "./services/people/laboratory.ts";
import { ownSettingsServices } from "./services/people/own-settings.ts";
import { peopleServices } from "./services/people/people.ts";
import { pinServices } from "./services/people/pins.ts";
import { standingServices } from "./services/people/standings.ts";
import { certificateServices as practiceCertificateServices } from "./services/practice/certificates.ts";
import { classServices } from "./services/practice/classes.ts";
import { ownReadingServices } from "./services/practice/own-reading.ts";
import { practiceServices } from "./services/practice/practice.ts";
import { unprovenServices } from "./services/practice/unproven.ts";
import { correctionServices } from "./services/records/corrections.ts";
import { overdueUseServices } from "./services/records/overdue-uses.ts";
import { signOffServices } from "./services/records/sign-offs.ts";
import { trailServices } from "./services/records/trail.ts";
import { noteHead, trailSigningServices } from "./services/records/trail-signing.ts";
import { blockServices } from "./services/sheets/blocks.ts";
import { changeObjectiveServices } from "./services/sheets/change-objective.ts";
import { convertRowsServices } from "./services/sheets/convert-rows.ts";
import { rowChangeServices } from "./services/sheets/row-changes.ts";
import { rowServices } from "./services/sheets/rows.ts";
import { secondReadingCandidateServices } from "./services/sheets/second-reading-candidates.ts";
import { secondReadingServices } from "./services/sheets/second-readings.ts";
import { sheetServices } from "./services/sheets/sheets.ts";
import { strikeRowServices } from "./services/sheets/strike-rows.ts";
import { undoServices } from "./services/sheets/undo.ts";
import { forwardCountServices } from "./services/tracing/forward-counts.ts";
import { interruptedReevaluation } from "./services/tracing/reevaluation-runner.ts";
import { reevaluationServices } from "./services/tracing/reevaluations.ts";
import { traceServices } from "./services/tracing/trace.ts";
import { classExportServices } from "./services/transfer/class-exports.ts";
import { controlExportServices } from "./services/transfer/control-exports.ts";
import { countExportServices } from "./services/transfer/count-exports.ts";
import { exchangeServices } from "./services/transfer/exchange.ts";
import { exportJobServices } from "./services/transfer/export-jobs.ts";
import { createExportRegister } from "./services/transfer/export-register.ts";
import { trendExportServices } from "./services/transfer/trend-exports.ts";
import { trendServices } from "./services/trends/trends.ts";
import type { Deps } from "./services/write-context/deps.ts";
import { createLongCalls, type LongCalls } from "./services/write-context/long-calls.ts";
import type { RecoveryOffer } from "./store/bench-file/bench-unopenable.ts";
import { doCopyWork } from "./store/bench-file/copy-work-here.ts";
import { forgetExportPlaces } from "./store/bench-file/export-notes.ts";
import { failureInWords, notInPlace } from "./store/bench-file/failure-words.ts";
import { type OpenBench, openBench } from "./store/bench-file/open.ts";
import { recover, restoreInPlace, undoRestore } from "./store/bench-file/recover.ts";
import { type Restored, stageCopy } from "./store/bench-file/swap.ts";
import { wrongClock } from "./store/bench-file/wrong-clock.ts";
import { commitsSoFar, immediate } from "./store/connection.ts";
import { forgetOldRequests } from "./store/repositories/request-repository.ts";

const PROGRAM_NAME = "Linefall";

function depsOf(
  options: ProgramOptions,
  bench: OpenBench,
  notices: string[],
  running: Pick<Deps, "background" | "fault" | "faultsSoFar" | "restore" | "changes">,
): Deps {
  const { paths, clock, ids, host, programVersion, demo } = options;
  return {
    db: bench.db,
    snapshot: bench.snapshot,
    clock,
    ids,
    paths,
    program: { name: PROGRAM_NAME, version: programVersion, host },
    demo: demo ?? false,
    notices,
    downloadAddress: options.downloadAddress ?? (() => null),
    chooseExportPath: options.chooseExportPath ?? null,
    printToPdf: options.printToPdf ?? null,
    showInFolder: options.showInFolder ?? null,
    signer: options.headSigner ?? null,
    openDemo: demo ? null : (options.openDemo ?? null),
    // What could not be done beside this process is done in it: no copy stays unchecked. Older copies can stay large
    // until the next one is made: for them nobody waits.
    copyWork: async (order, signal) => {
      const beside = await options.copyWork?.(order, signal).catch(() => null);
      signal?.throwIfAborted();
      const faults =
        beside ?? (options.copyWork && order.kind === "condense" ? [] : await doCopyWork(order, signal));
      // Whoever asked for a backup has one; what is wrong with older ones is told apart from that.
      if (order.kind === "condense" && faults.length > 0) {
        notices.push(...faults.filter((one) => !notices.includes(one)));
        running.changes.note(["notices"]);
      }
      return faults;
    },
    ...running,
  };
}

function handlersOf(deps: Deps, longCalls: LongCalls, fileCheck: FileCheck): Handlers {
  const exportRegister = createExportRegister(deps);
  return {
    ...benchServices(deps),
    ...fileCheck.handlers,
    ...peopleServices(deps),
    ...standingServices(deps),
    ...ownSettingsServices(deps),
    ...ownReadingServices(deps),
    ...microscopeServices(deps),
    ...micrometerServices(deps),
    ...certificateServices(deps),
    ...calibrationServices(deps),
    ...methodServices(deps),
    ...sheetServices(deps),
    ...rowServices(deps),
    ...strikeRowServices(deps),
    ...rowChangeServices(deps),
    ...blockServices(deps),
    ...changeObjectiveServices(deps),
    ...convertRowsServices(deps),
    ...undoServices(deps),
    ...secondReadingServices(deps),
    ...secondReadingCandidateServices(deps),
    ...countMethodServices(deps),
    ...categoryListServices(deps),
    ...countServices(deps),
    ...countExportServices(deps, exportRegister),
    ...forwardCountServices(deps),
    ...recountServices(deps),
    ...practiceServices(deps),
    ...practiceCertificateServices(deps),
    ...unprovenServices(deps),
    ...classServices(deps),
    ...classExportServices(deps, exportRegister),
    ...controlExportServices(deps, exportRegister),
    ...trailServices(deps, longCalls),
    ...trailSigningServices(deps),
    ...trendServices(deps),
    ...trendExportServices(deps, exportRegister),
    ...backupServices(deps, longCalls),
    ...exportJobServices(deps, exportRegister),
    ...exchangeServices(deps, longCalls, exportRegister),
    ...attachmentServices(deps),
    ...checkServices(deps),
    ...assessmentServices(deps),
    ...confirmationServices(deps),
    ...overdueUseServices(deps),
    ...dueWorkServices(deps),
    ...eventServices(deps),
    ...laboratoryServices(deps),
    ...pinServices(deps),
    ...serviceStateServices(deps),
    ...signOffServices(deps),
    ...correctionServices(deps),
    ...traceServices(deps),
    ...reevaluationServices(deps),
    ...benchFileServices(deps, longCalls),
    ...longCalls.handlers,
  };
}

/** Nothing a person should wait for or be stopped by. */
function pruneRequests(bench: OpenBench, now: string, log: ProgramOptions["log"]): void {
  try {
    immediate(bench.db, (db) => forgetOldRequests(db, now));
  } catch (error) {
    log?.(`old requests were not forgotten: ${error instanceof Error ? error.message : String(error)}`);
  }
}

/** A file that cannot be read any more has been told of before. */
async function noteLastHead(bench: OpenBench, deps: Deps): Promise<void> {
  try {
    if (bench.isInPlace()) await noteHead(deps, bench.db);
  } catch {
    // Closing goes on whatever the file says.
  }
}

function isWrite(name: string): boolean {
  return typeof name === "string" && isCallName(name) && calls[name].kind === "write";
}

/** One opening of the bench: what a restored backup replaces while the program goes on. */
interface Session {
  readonly dispatch: Dispatch;
  readonly bench: OpenBench;
  /** Waits for what is under way, and takes nothing more; `as it is`: without the day's copy. */
  close(how?: "as it is"): Promise<void>;
}

interface Shared {
  readonly notices: string[];
  readonly faults: FaultLog;
  readonly restore: Deps["restore"];
  readonly changes: ChangeLog;
}

async function openSession(
  options: ProgramOptions,
  { notices, faults, restore, changes }: Shared,
): Promise<Session> {
  const { paths, clock, host, log, checkedWholeUpTo, opening } = options;
  const bench = await openBench({ paths, clock, host, checkedWholeUpTo, opening });
  notices.push(...bench.notices);
  const wrong = wrongClock(bench.db, clock.now());
  if (wrong !== null) notices.push(wrong);
  tellOfSwap(bench.db, options);
  const underWay = new Set<Promise<unknown>>();
  const closed = new AbortController();
  function follow<T>(work: Promise<T>): Promise<T> {
    underWay.add(work);
    void work.finally(() => underWay.delete(work));
    return work;
  }
  const deps = depsOf(options, bench, notices, {
    background: (work) => void follow(work(closed.signal)),
    fault: (where, error) => faults.record(where, error),
    faultsSoFar: faults.newest,
    restore,
    changes,
  });
  const daily = createDailyBackup(deps, (line) => notices.push(line));
  pruneRequests(bench, clock.now(), log);
  const interrupted = interruptedReevaluation(deps);
  if (interrupted !== null) notices.push(interrupted);
  const longCalls = createLongCalls();
  const fileCheck = createFileCheck(deps, longCalls, notices);
  if (bench.isUnchecked) deps.background((closing) => fileCheck.afterOpening(closing));
  const carryOut = createDispatcher({
    handlers: handlersOf(deps, longCalls, fileCheck),
    faults,
    translate: failureInWords,
    log,
    commits: commitsSoFar,
  });
  async function dispatch(name: string, rawInput: unknown): ReturnType<Dispatch> {
    const reply = await carryOut(name, rawInput);
    // Before it is acknowledged: what was written into a file that is no longer the bench is lost. A restore has set
    // another file in its place itself, and wrote into that.
    if (reply.ok && isWrite(name) && name !== "backups.restore" && !bench.isInPlace()) {
      const error = notInPlace(paths.databaseFile);
      if (!notices.includes(error.message)) notices.push(error.message);
      return { ok: false, error };
    }
    // A fault may have come after the writing.
    if (isCallName(name) && (reply.ok || reply.error.code === "fault")) changes.note(changedBy(name));
    return reply;
  }
  return {
    bench,
    dispatch(name, rawInput) {
      // The one call that closes the session it runs in; it must not wait for itself.
      if (name === "backups.restore") return dispatch(name, rawInput);
      const copyBegins = isWrite(name) ? daily.atWrite() : null;
      return follow(copyBegins ? copyBegins.then(() => dispatch(name, rawInput)) : dispatch(name, rawInput));
    },
    async close(how) {
      closed.abort();
      while (underWay.size > 0) await Promise.allSettled(underWay);
      if (how !== "as it is") await daily.atClose();
      await noteLastHead(bench, deps);
      forgetExportPlaces(options.paths);
      bench.close();
    },
  };
}

const CLOSED: Awaited<ReturnType<Dispatch>> = {
  ok: false,
  error: { code: "host.lost", message: "The bench has been closed.", hint: "Start the program again." },
};

/**
 * Opens a bench and puts store, services and dispatcher together; used by both hosts and by the tests.
 * @throws BenchUnopenable when the bench is locked, newer, foreign, damaged, missing or not writable
 */
export async function assemble(options: ProgramOptions): Promise<Program> {
  const notices: string[] = [];
  const faults: FaultLog = openFaultLog(options.paths.dataFolder, options.clock, options.log);
  let session: Session;
  let switching: Promise<unknown> | null = null;
  let closing: Promise<void> | null = null;

  /** Sets a backup in the place of the bench, and opens the bench whatever comes of it. */
  async function swap(restored: Restored): Promise<string> {
    // The copy lies ready before anything is closed: no rotation can touch it, and a bad one changes nothing.
    stageCopy(options.paths, restored.fileName);
    await session.close("as it is");
    let aside: string | null = null;
    try {
      aside = restoreInPlace(options, restored);
      session = await openSession(options, shared);
      return aside;
    } catch (error) {
      if (aside !== null) undoRestore(options, aside);
      try {
        session = await openSession(options, shared);
      } catch (closed) {
        // Neither of the two opens: every call from now on says that the bench is closed.
        closing = Promise.resolve();
        throw closed;
      }
      throw error;
    }
  }

  const shared: Shared = {
    notices,
    faults,
    changes: createChangeLog(options.ids.next()),
    restore(restored) {
      if (switching) return Promise.reject(new Error("a backup is being restored already"));
      const work = swap(restored).finally(() => {
        switching = null;
      });
      switching = work.catch(() => undefined);
      return work;
    },
  };
  session = await openSession(options, shared);

  return {
    notices,
    async dispatch(name, rawInput) {
      // Calls that come while a backup is set in place wait for the bench it becomes.
      if (switching) await switching;
      return closing ? CLOSED : session.dispatch(name, rawInput);
    },
    close() {
      closing ??= Promise.resolve(switching).then(() => session.close());
      return closing;
    },
  };
}

/**
 * Carries out the way out a person chose from `BenchUnopenable.offers`. The file that did not open is renamed and kept.
 * @returns what was done, in words
 * @throws BenchUnopenable `bench.locked`; Error when the backup chosen does not pass its check
 */
export async function recoverBench(options: ProgramOptions, offer: RecoveryOffer): Promise<string> {
  return recover(options, offer);
}
