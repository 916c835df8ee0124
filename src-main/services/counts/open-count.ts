import type { z } from "zod";
import type { ParsedInput } from "#core/contract/calls.ts";
import type { Count, NewCount } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import type { OpticalTrain } from "#core/contract/records/microscope.ts";
import { requireReadableInputs } from "#core/counting/inputs/count-inputs.ts";
import { countingUnitOf } from "#core/counting/inputs/counting-unit.ts";
import { needsFactor } from "#core/counting/inputs/field-area.ts";
import { neededOfMethod } from "#core/counting/lists/categories-of-list.ts";
import { requireCategories } from "#core/counting/methods/count-method-check.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { calibrationInForce } from "../../store/repositories/calibration-repository.ts";
import { beginField, firstHashOf, placeField } from "../../store/repositories/count-event-repository.ts";
import { findCount, insertCount } from "../../store/repositories/count-repository.ts";
import { trainCaution } from "../calibration/train-status.ts";
import { requireTrain } from "../equipment/require-train.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";
import { readStage } from "../sheets/stage-position.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";
import { requireCategoryList } from "./category-lists.ts";

type TrainChoice = NonNullable<z.output<typeof NewCount>["train"]>;

function trainFor(
  db: ReadableDb,
  { definition }: CountMethod,
  choice: TrainChoice | null,
  today: string,
): OpticalTrain | null {
  if (choice) return requireTrain(db, choice, today, "count.train.");
  if (!needsFactor(definition)) return null;
  throw new Refusal("train.missing", "The area of this method comes from a factor, so it needs a train.", {
    field: "count.train",
    hint: "Choose the microscope, eyepiece and objective in use.",
  });
}

/** A new categories list holds everything the method names: only keys and names may differ, and more may follow. */
export function requireMethodsCategories(
  categories: Count["categories"],
  before: Count["categories"],
  field: string,
): void {
  requireCategories(categories, field);
  for (const one of before) {
    const now = categories.find((category) => category.key === one.key);
    if (!now || now.kind !== one.kind || countingUnitOf(now) !== countingUnitOf(one)) {
      throw new Refusal(
        "input.invalid",
        `must keep “${one.name}” as it is: only its name and its key may change`,
        {
          field,
        },
      );
    }
  }
}

/**
 * Categories of a list take the place of the method's own objects, but for what its density and its rule need: marker
 * spores and the categories that the rule names.
 */
function requireCategoriesOf(
  db: ReadableDb,
  { definition }: CountMethod,
  { categories, categoryListId }: z.output<typeof NewCount>,
): void {
  if (categoryListId === null) {
    requireMethodsCategories(categories, definition.categories, "count.categories");
    return;
  }
  const list = requireCategoryList(db, categoryListId, "count.categoryListId");
  const own = list.definition.categories;
  requireMethodsCategories(categories, [...neededOfMethod(definition, own), ...own], "count.categories");
}

/** Cautions about the train, those of today with those of before, each once. */
export function withCautionOf(
  db: ReadableDb,
  train: OpticalTrain | null,
  before: readonly string[],
  today: string,
): string[] {
  const caution = train && trainCaution(db, train, today);
  return caution === null || before.includes(caution) ? [...before] : [...before, caution];
}

/** How a count starts: at once, at a place, or waiting with its clock standing until somebody goes on with it. */
type CountStart = { readonly position: ParsedInput<"counts.open">["position"] } | "waits";

/** Opens a count in the transaction of `ctx`, at its first field. */
export function openCount(
  ctx: WriteContext,
  id: string,
  wanted: z.output<typeof NewCount>,
  today: string,
  start: CountStart,
): Count {
  const waits = start === "waits";
  const position = waits ? null : readStage("position", start.position);
  const { db, at, by, audit } = ctx;
  const { sample, customer, note: words, countMethodId, categories, categoryListId, inputs, batch } = wanted;
  const method = requireCountMethodById(db, countMethodId, "count.countMethodId");
  requireCategoriesOf(db, method, wanted);
  withFieldPrefix("count.inputs", () => requireReadableInputs(inputs));
  const train = trainFor(db, method, wanted.train, today);
  const calibration = train ? calibrationInForce(db, train.id) : null;
  const count: Omit<Count, "number"> = {
    id,
    sample,
    ...(customer === "" ? {} : { customer }),
    note: words,
    countMethodId,
    train: train
      ? {
          microscopeId: train.microscopeId,
          eyepieceId: train.eyepieceId,
          intermediateMagnification: train.intermediateMagnification,
          objectiveId: train.objectiveId,
        }
      : null,
    trainId: train?.id ?? null,
    calibrationId: calibration?.id ?? null,
    categories,
    ...(categoryListId === null ? {} : { categoryListId }),
    inputs,
    batch,
    trainCautions: withCautionOf(db, train, [], today),
    state: waits ? "paused" : "counting",
    currentField: 1,
    lastSequence: 0,
    secondsBefore: 0,
    runningSince: waits ? null : at,
    openedAt: at,
    openedBy: by.id,
    closedAt: null,
    closedBy: null,
    lastFieldCounted: false,
    linkedSheetId: null,
    results: null,
  };
  insertCount(db, count, firstHashOf(id));
  beginField(db, id, 1, at);
  if (position) placeField(db, id, 1, position);
  audit({
    act: "counts.open",
    subject: "count",
    subjectId: id,
    detail: {
      sample,
      customer: count.customer ?? null,
      note: words,
      countMethodId,
      trainId: count.trainId,
      calibrationId: count.calibrationId,
      categories,
      ...(categoryListId === null ? {} : { categoryListId }),
      inputs,
      batch,
      position,
      trainCautions: count.trainCautions,
      ...(waits ? { waits } : {}),
    },
  });
  const opened = findCount(db, id);
  if (!opened) throw new Error(`count ${id} is missing after it was written`);
  return opened;
}
