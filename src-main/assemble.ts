import { calls, isCallName } from "#core/contract/calls.ts";
import { createDispatcher, type Dispatch } from "./dispatch/dispatcher.ts";
import { type FaultLog, openFaultLog } from "./dispatch/fault-log.ts";
import type { Handlers } from "./dispatch/handlers.ts";
import type { Program, ProgramOptions } from "./program.ts";
import { attachmentServices } from "./services/attachments.ts";
import { backupServices } from "./services/backups.ts";
import { benchServices } from "./services/bench.ts";
import { benchFileServices } from "./services/bench-files.ts";
import { blockServices } from "./services/blocks.ts";
import { calibrationServices } from "./services/calibrations.ts";
import { certificateServices } from "./services/certificates.ts";
import { changeObjectiveServices } from "./services/change-objective.ts";
import { checkServices } from "./services/checks.ts";
import { confirmationServices } from "./services/confirmations.ts";
import { countMethodServices } from "./services/count-methods.ts";
import { createDailyBackup } from "./services/daily-backup.ts";
import type { Deps } from "./services/deps.ts";
import { dueWorkServices } from "./services/due-work.ts";
import { eventServices } from "./services/events.ts";
import { exchangeServices } from "./services/exchange.ts";
import { exportJobServices } from "./services/export-jobs.ts";
import { createExportRegister } from "./services/export-register.ts";
import { exportServices } from "./services/exports.ts";
import { forwardTallyServices } from "./services/forward-tallies.ts";
import { laboratoryServices } from "./services/laboratory.ts";
import { methodServices } from "./services/methods.ts";
import { micrometerServices } from "./services/micrometers.ts";
import { microscopeServices } from "./services/microscopes.ts";
import { peopleServices } from "./services/people.ts";
import { pinServices } from "./services/pins.ts";
import { recountServices } from "./services/recounts.ts";
import { interruptedReevaluation } from "./services/reevaluation-runner.ts";
import { reevaluationServices } from "./services/reevaluations.ts";
import { rowChangeServices } from "./services/row-changes.ts";
import { rowServices } from "./services/rows.ts";
import { secondReadingCandidateServices } from "./services/second-reading-candidates.ts";
import { secondReadingServices } from "./services/second-readings.ts";
import { serviceStateServices } from "./services/service-states.ts";
import { sheetServices } from "./services/sheets.ts";
import { signOffServices } from "./services/sign-offs.ts";
import { tallyServices } from "./services/tallies.ts";
import { tallyExportServices } from "./services/tally-exports.ts";
import { traceServices } from "./services/trace.ts";
import { trailServices } from "./services/trail.ts";
import { trendExportServices } from "./services/trend-exports.ts";
import { trendServices } from "./services/trends.ts";
import { undoServices } from "./services/undo.ts";
import type { RecoveryOffer } from "./store/bench-unopenable.ts";
import { commitsSoFar, immediate } from "./store/connection.ts";
import { putBack } from "./store/damage.ts";
import { failureInWords } from "./store/failure-words.ts";
import { type OpenBench, openBench } from "./store/open.ts";
import { recover, restoreInPlace } from "./store/recover.ts";
import { forgetOldRequests } from "./store/request-repository.ts";

const PROGRAM_NAME = "Linefall";

function depsOf(
  options: ProgramOptions,
  bench: OpenBench,
  notices: readonly string[],
  running: Pick<Deps, "background" | "fault" | "restore">,
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
    ...running,
  };
}

function handlersOf(deps: Deps): Handlers {
  const exportRegister = createExportRegister(deps);
  return {
    ...benchServices(deps),
    ...peopleServices(deps),
    ...microscopeServices(deps),
    ...micrometerServices(deps),
    ...certificateServices(deps),
    ...calibrationServices(deps),
    ...methodServices(deps),
    ...sheetServices(deps),
    ...rowServices(deps),
    ...rowChangeServices(deps),
    ...blockServices(deps),
    ...changeObjectiveServices(deps),
    ...undoServices(deps),
    ...secondReadingServices(deps),
    ...secondReadingCandidateServices(deps),
    ...countMethodServices(deps),
    ...tallyServices(deps),
    ...tallyExportServices(deps, exportRegister),
    ...forwardTallyServices(deps),
    ...recountServices(deps),
    ...trailServices(deps),
    ...trendServices(deps),
    ...trendExportServices(deps),
    ...backupServices(deps),
    ...exportServices(deps),
    ...exportJobServices(deps, exportRegister),
    ...exchangeServices(deps),
    ...attachmentServices(deps),
    ...checkServices(deps),
    ...confirmationServices(deps),
    ...dueWorkServices(deps),
    ...eventServices(deps),
    ...laboratoryServices(deps),
    ...pinServices(deps),
    ...serviceStateServices(deps),
    ...signOffServices(deps),
    ...traceServices(deps),
    ...reevaluationServices(deps),
    ...benchFileServices(deps),
  };
}

/** Nothing a person should wait for or be stopped by. */
function keepHouse(bench: OpenBench, now: string, log: ProgramOptions["log"]): void {
  try {
    immediate(bench.db, (db) => forgetOldRequests(db, now));
  } catch (error) {
    log?.(`old requests were not forgotten: ${error instanceof Error ? error.message : String(error)}`);
  }
}

function isWrite(name: string): boolean {
  return typeof name === "string" && isCallName(name) && calls[name].kind === "write";
}

/** One opening of the bench: what a restored backup replaces while the program goes on. */
interface Session {
  readonly dispatch: Dispatch;
  readonly bench: OpenBench;
  /** Waits for what is under way, and takes nothing more. */
  close(): Promise<void>;
}

interface Shared {
  readonly notices: string[];
  readonly faults: FaultLog;
  readonly restore: Deps["restore"];
}

async function openSession(options: ProgramOptions, { notices, faults, restore }: Shared): Promise<Session> {
  const { paths, clock, host, log } = options;
  const bench = await openBench({ paths, clock, host });
  notices.push(...bench.notices);
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
    restore,
  });
  const daily = createDailyBackup(deps, (line) => notices.push(line));
  keepHouse(bench, clock.now(), log);
  const interrupted = interruptedReevaluation(deps);
  if (interrupted !== null) notices.push(interrupted);
  const dispatch = createDispatcher({
    handlers: handlersOf(deps),
    faults,
    translate: failureInWords,
    log,
    commits: commitsSoFar,
  });
  return {
    bench,
    dispatch(name, rawInput) {
      // The one call that closes the session it runs in; it must not wait for itself.
      if (name === "backups.restore") return dispatch(name, rawInput);
      if (isWrite(name)) void follow(daily.atWrite());
      return follow(dispatch(name, rawInput));
    },
    async close() {
      closed.abort();
      while (underWay.size > 0) await Promise.allSettled(underWay);
      await daily.atClose();
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

  async function swap(fileName: string, tell: Parameters<Deps["restore"]>[1]): Promise<string | null> {
    await session.close();
    const aside = restoreInPlace(options, fileName);
    try {
      session = await openSession(options, shared);
    } catch (error) {
      if (aside !== null) putBack(options.paths.databaseFile, aside);
      session = await openSession(options, shared);
      throw error;
    }
    immediate(session.bench.db, (db) => tell(db, aside));
    return aside;
  }

  const shared: Shared = {
    notices,
    faults,
    restore(fileName, tell) {
      if (switching) return Promise.reject(new Error("a backup is being restored already"));
      const work = swap(fileName, tell).finally(() => {
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
