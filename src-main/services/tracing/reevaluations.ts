import type { ParsedInput } from "#core/contract/calls.ts";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findReevaluation,
  insertReevaluation,
  listReevaluations,
  runningReevaluation,
  setReevaluationState,
} from "../../store/repositories/reevaluation-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransaction,
  inTransactionOnce,
  requirePerson,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { impactOfScope, resultsByCalibration } from "./forward-trace.ts";
import { recalculate, swapOf } from "./recalculate.ts";
import { createReevaluationRunner } from "./reevaluation-runner.ts";
import { type ReachedCalibration, resolveScope } from "./trace-scope.ts";

type Wanted = ParsedInput<"reevaluations.begin">["reevaluation"];

function requireReevaluation(db: ReadableDb, id: string): Reevaluation {
  const found = findReevaluation(db, id);
  if (found) return found;
  throw new Refusal("reevaluation.unknown", "That re-evaluation is not on this bench.", {
    field: "reevaluationId",
  });
}

function requireNoneRunning(db: ReadableDb): void {
  if (runningReevaluation(db) === null) return;
  throw new Refusal("reevaluation.busy", "Another re-evaluation is under way.", {
    hint: "Wait for it or stop it first.",
  });
}

/** The calibrations to swap: those behind results in the scope, and those in force that the replacement reaches. */
function swapped(
  reached: readonly ReachedCalibration[],
  results: ReadonlyMap<string, number>,
): ReachedCalibration[] {
  const wanted = reached.filter(
    ({ record }) => (results.get(record.id) ?? 0) > 0 || record.state === "in force",
  );
  const trouble = wanted.find((one) => one.problem !== null);
  if (trouble) {
    throw new Refusal(
      "replacement.unusable",
      `The factor of ${trouble.trainName} of ${trouble.record.startedAt.slice(0, 10)} cannot be derived again. ${trouble.problem}`,
      {
        field: "reevaluation.replacement",
        hint: "Leave it out by choosing dates or sheets, or calibrate anew.",
      },
    );
  }
  return wanted.filter((one) => one.replacement !== null);
}

function begin(
  deps: Deps,
  ctx: WriteContext,
  wanted: Wanted,
  results: ReadonlyMap<string, number>,
): Reevaluation {
  const { db, at, by, audit } = ctx;
  requireNoneRunning(db);
  const { replacement, reason, sheetIds: _, ...scope } = wanted;
  const reached = swapped(resolveScope(db, { ...scope, replacement }).calibrations, results);
  const total = reached.reduce((sum, { record }) => sum + (results.get(record.id) ?? 0), 0);
  if (total === 0 && !(replacement.kind === "certificate" && reached.length > 0)) {
    throw new Refusal("reevaluation.empty", "There is nothing to re-evaluate in that scope.", {
      field: "reevaluation.subject",
      hint: "Choose other dates or sheets.",
    });
  }
  const id = deps.ids.next();
  const swaps = reached.map((one) => swapOf(deps, db, one, replacement));
  const reevaluation: Reevaluation = {
    ...wanted,
    id,
    state: "running",
    swaps,
    total,
    done: 0,
    reopenedSheets: 0,
    startedAt: at,
    startedBy: by.id,
    finishedAt: null,
    trouble: null,
  };
  insertReevaluation(db, reevaluation);
  if (replacement.kind === "certificate") {
    const { certificateId } = replacement;
    reached.forEach((one, i) => {
      recalculate(ctx, one, swaps[i]?.to ?? "", { reevaluationId: id, certificateId, reason });
    });
  }
  audit({
    act: "reevaluations.begin",
    subject: "reevaluation",
    subjectId: id,
    reason,
    detail: { ...wanted, swaps, total },
  });
  return reevaluation;
}

/** How many results each calibration has in the scope; counted before the act, in pieces. */
async function numberOfResults(deps: Deps, wanted: Wanted): Promise<ReadonlyMap<string, number>> {
  const { reason: _, sheetIds, ...scope } = wanted;
  const resolved = resolveScope(deps.db, scope);
  return resultsByCalibration(await impactOfScope(deps.db, resolved, sheetIds));
}

export function reevaluationServices(deps: Deps) {
  const runner = createReevaluationRunner(deps);
  return handlers({
    "reevaluations.list": () => listReevaluations(deps.db),

    "reevaluations.status": ({ reevaluationId }) => requireReevaluation(deps.db, reevaluationId),

    "reevaluations.begin": async (input) => {
      requirePerson(deps.db);
      const results = await numberOfResults(deps, input.reevaluation);
      let begun = false;
      const reevaluation = inTransactionOnce(
        deps,
        "reevaluations.begin",
        input,
        (ctx) => {
          begun = true;
          return begin(deps, ctx, input.reevaluation, results);
        },
        findReevaluation,
      );
      if (begun) runner.start(reevaluation, requirePerson(deps.db).id);
      return reevaluation;
    },

    "reevaluations.stop": async ({ reevaluationId }) => {
      requirePerson(deps.db);
      requireReevaluation(deps.db, reevaluationId);
      if (!runner.isRunning(reevaluationId)) return requireReevaluation(deps.db, reevaluationId);
      await runner.stop(reevaluationId);
      return inTransaction(deps, ({ db, audit }) => {
        const stopped = requireReevaluation(db, reevaluationId);
        const { state, done, total } = stopped;
        // It may have come to its end just then.
        if (state === "stopped") {
          audit({
            act: "reevaluations.stop",
            subject: "reevaluation",
            subjectId: reevaluationId,
            detail: { done, total },
          });
        }
        return stopped;
      });
    },

    "reevaluations.resume": ({ reevaluationId }) => {
      const resumed = inTransaction(deps, ({ db, audit }) => {
        const { state, done, total } = requireReevaluation(db, reevaluationId);
        // Marked as running and not under way: a full disk did not even let it be marked as stopped.
        if (state === "finished" || runner.isRunning(reevaluationId)) return null;
        if (state === "stopped") requireNoneRunning(db);
        setReevaluationState(db, reevaluationId, "running");
        audit({
          act: "reevaluations.resume",
          subject: "reevaluation",
          subjectId: reevaluationId,
          detail: { done, total },
        });
        return requireReevaluation(db, reevaluationId);
      });
      if (resumed) runner.start(resumed, requirePerson(deps.db).id);
      return requireReevaluation(deps.db, reevaluationId);
    },
  });
}
