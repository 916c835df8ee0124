import type { ParsedInput } from "#core/contract/calls.ts";
import type { Microscope, Objective } from "#core/contract/records/microscope.ts";
import { objectivesOnTurret } from "#core/optics/turret.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { WritableDb } from "../../store/connection.ts";
import {
  findMicroscope,
  insertEyepiece,
  insertMicroscope,
  insertObjective,
  listMicroscopes,
  microscopeNameTaken,
  setReplaced,
} from "../../store/repositories/microscope-repository.ts";
import { insertTrain } from "../../store/repositories/train-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import {
  readEyepiece,
  readIntermediateMagnifications,
  readObjective,
  trainsOf,
} from "./new-microscope-parts.ts";
import { whyReplaced } from "./replaced-objective.ts";
import { requireObjective } from "./require-train.ts";

type Calls =
  | "microscopes.list"
  | "microscopes.register"
  | "microscopes.addObjective"
  | "microscopes.replaceObjective"
  | "microscopes.addEyepiece";

export function requireMicroscope(db: WritableDb, id: string): Microscope {
  const microscope = findMicroscope(db, id);
  if (microscope) return microscope;
  throw new Refusal("microscope.unknown", "That microscope is not registered on this bench.", {
    field: "microscopeId",
    hint: "Register the microscope first.",
  });
}

function requireFreePlace(field: string, objective: Objective, others: readonly Objective[]): void {
  const there = others.find((other) => other.position === objective.position);
  if (!there) return;
  throw new Refusal(
    "objective.taken",
    `Turret position ${objective.position} holds the ${there.magnification}× already.`,
    { field: `${field}.position`, hint: "Give each objective its own position." },
  );
}

/** Reads back what was just written, so that the answer is what the bench now holds. */
function asStored(db: WritableDb, id: string): Microscope {
  const stored = findMicroscope(db, id);
  if (!stored) throw new Error(`microscope ${id} is missing after it was written`);
  return stored;
}

/** What is wrong with a day on which an objective is to have left. @throws InputError `on` */
function requireDayOfLeaving(on: string, { registeredAt }: Microscope, today: string): void {
  if (on > today) throw new InputError("on", "lies in the future");
  const registered = registeredAt.slice(0, 10);
  if (on < registered) throw new InputError("on", `lies before the microscope was registered, ${registered}`);
}

function replaceObjective(
  { db, audit }: WriteContext,
  { ids, clock }: Pick<Deps, "ids" | "clock">,
  input: ParsedInput<"microscopes.replaceObjective">,
): Microscope {
  const { on, reason } = input;
  const microscope = requireMicroscope(db, input.microscopeId);
  requireObjective(microscope, input.objectiveId, "objectiveId");
  const why = whyReplaced(db, input.objectiveId, clock.today());
  if (why !== null) {
    throw new Refusal("objective.replaced", why, {
      field: "objectiveId",
      hint: "Replace the one that is at this position now.",
    });
  }
  requireDayOfLeaving(on, microscope, clock.today());
  const old = microscope.objectives.find((one) => one.id === input.objectiveId);
  if (!old) throw new Error(`objective ${input.objectiveId} is missing after it was found`);
  const { position } = old;
  const objective = readObjective(ids, microscope.id, { ...input.objective, position });
  setReplaced(db, old.id, { on, by: objective.id });
  insertObjective(db, objective);
  for (const train of trainsOf(ids, microscope, microscope.eyepieces, [objective])) insertTrain(db, train);
  audit({
    act: "microscopes.replaceObjective",
    subject: "objective",
    subjectId: old.id,
    reason,
    detail: { on, objective },
  });
  return asStored(db, microscope.id);
}

export function microscopeServices(deps: Deps): HandlersOf<Calls> {
  const { ids } = deps;
  return {
    "microscopes.list": () => listMicroscopes(deps.db),

    "microscopes.register": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, audit }) => {
          const { name, maker, model, serial, headCompensated, ...typed } = input.microscope;
          if (microscopeNameTaken(db, name)) {
            throw new Refusal("microscope.taken", `A microscope named ${name} is registered already.`, {
              field: "microscope.name",
              hint: "Give this one another name, such as its place or inventory number.",
            });
          }
          const id = ids.next();
          const objectives = typed.objectives.map((one) => readObjective(ids, id, one));
          objectives.forEach((objective, i) => {
            requireFreePlace(`microscope.objectives.${i}`, objective, objectives.slice(0, i));
          });
          const microscope: Microscope = {
            id,
            name,
            maker,
            model,
            serial,
            headCompensated,
            intermediateMagnifications: readIntermediateMagnifications(
              "microscope.intermediateMagnifications",
              typed.intermediateMagnifications,
            ),
            objectives,
            eyepieces: typed.eyepieces.map((one) => readEyepiece(ids, id, one)),
            registeredAt: at,
          };
          insertMicroscope(db, microscope);
          for (const train of trainsOf(ids, microscope, microscope.eyepieces, objectives))
            insertTrain(db, train);
          audit({ act: "microscopes.register", subject: "microscope", subjectId: id, detail: microscope });
          return asStored(db, id);
        },
        findMicroscope,
      ),

    "microscopes.addObjective": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, audit }) => {
          const microscope = requireMicroscope(db, input.microscopeId);
          const objective = readObjective(ids, microscope.id, input.objective);
          requireFreePlace("objective", objective, objectivesOnTurret(microscope.objectives));
          insertObjective(db, objective);
          for (const train of trainsOf(ids, microscope, microscope.eyepieces, [objective]))
            insertTrain(db, train);
          audit({
            act: "microscopes.addObjective",
            subject: "microscope",
            subjectId: microscope.id,
            detail: { objective },
          });
          return asStored(db, microscope.id);
        },
        findMicroscope,
      ),

    "microscopes.replaceObjective": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => replaceObjective(ctx, deps, input), findMicroscope),

    "microscopes.addEyepiece": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, audit }) => {
          const microscope = requireMicroscope(db, input.microscopeId);
          const eyepiece = readEyepiece(ids, microscope.id, input.eyepiece);
          insertEyepiece(db, eyepiece);
          for (const train of trainsOf(ids, microscope, [eyepiece], microscope.objectives))
            insertTrain(db, train);
          audit({
            act: "microscopes.addEyepiece",
            subject: "microscope",
            subjectId: microscope.id,
            detail: { eyepiece },
          });
          return asStored(db, microscope.id);
        },
        findMicroscope,
      ),
  };
}
