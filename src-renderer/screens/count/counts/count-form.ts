import { z } from "zod";
import type { Client } from "#core/contract/calls.ts";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import { type Count, NewCount } from "#core/contract/records/count.ts";
import type {
  CountCategory,
  CountMethod,
  CountMethodDefinition,
  InputKey,
} from "#core/contract/records/count-method.ts";
import { Reason } from "#core/contract/records/primitives.ts";
import type { Reply } from "#core/contract/reply.ts";
import { inputsAskedBy } from "#core/counting/inputs/count-inputs.ts";
import { needsFactor } from "#core/counting/inputs/field-area.ts";
import { categoriesOfList } from "#core/counting/lists/categories-of-list.ts";
import { requireCategories } from "#core/counting/methods/count-method-check.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { problemsBySchema, problemsOfNumbers } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";
import {
  isBatch,
  problemOfSamples,
  type SampleValues,
  samplesOf,
} from "../../../parts/form/SeveralSamples.tsx";
import type { TrainValues } from "../../../parts/form/TrainFields.tsx";
import type { OfferedMethod } from "../methods/offered-methods.ts";

/** What is typed into the form of a new count. */
export interface CountValues extends TrainValues, SampleValues {
  readonly customer: string;
  readonly note: string;
  readonly batch: string;
  readonly offeredId: string;
  readonly inputs: Readonly<Partial<Record<InputKey, string>>>;
  readonly categories: readonly CountCategory[];
  /** The category list they came from; empty: the method's own. */
  readonly listId: string;
  readonly edgeRuleId: string;
}

/** Categories of a method, or of a list under it. */
export function categoriesFor(
  offered: OfferedMethod | undefined,
  list: CategoryList | undefined,
): readonly CountCategory[] {
  if (!offered) return [];
  const { definition } = offered;
  return list ? categoriesOfList(list.definition.categories, definition) : definition.categories;
}

/** What a method fills in: its categories or those of a list under their keys, its suggested inputs, its edge rule. */
export function filledBy(
  offered: OfferedMethod | undefined,
  list: CategoryList | undefined,
): Pick<CountValues, "offeredId" | "inputs" | "categories" | "edgeRuleId"> {
  return {
    offeredId: offered?.id ?? "",
    inputs: offered?.definition.suggestedInputs ?? {},
    categories: categoriesFor(offered, list),
    edgeRuleId: offered?.definition.edgeRuleId ?? "",
  };
}

/** Why keys and names cannot stand as they are. */
export function problemsOfKeys(categories: readonly CountCategory[]): FieldErrors {
  const unnamed = categories.find(({ name }) => name.trim() === "");
  if (unnamed) return { categories: "need a name for every category" };
  try {
    requireCategories(categories);
    return {};
  } catch (error) {
    if (error instanceof InputError) return { categories: error.reason };
    throw error;
  }
}

export function problemsOfReason(reason: string): FieldErrors {
  return problemsBySchema(z.strictObject({ reason: Reason }), { reason });
}

/** Inputs that can't be read; an empty one is no problem here. */
export function problemsOfInputs(
  inputs: CountValues["inputs"],
  definition: CountMethodDefinition,
): FieldErrors {
  return problemsOfNumbers(
    inputsAskedBy(definition).map(({ key }) => [
      `inputs.${key}`,
      inputs[key] ?? "",
      { optional: true, sign: "not negative" },
    ]),
  );
}

/** Problems of what was typed, before anything is sent. */
export function problemsOfCount(values: CountValues, offered: OfferedMethod | undefined): FieldErrors {
  if (!offered) return { offeredId: "is not chosen yet" };
  const errors: Record<string, string> = { ...problemsOfInputs(values.inputs, offered.definition) };
  if (needsFactor(offered.definition) && values.objectiveId === "") {
    errors.microscopeId = "is needed for the area of this method: register one first";
  }
  const { sample, customer, note, batch } = values;
  const typed = { customer, note, batch };
  return {
    ...(isBatch(values) ? {} : problemsBySchema(NewCount.pick({ sample: true }), { sample })),
    ...problemsBySchema(NewCount.pick({ customer: true, note: true, batch: true }), typed),
    ...problemOfSamples(values),
    ...errors,
    ...problemsOfKeys(values.categories),
  };
}

/** The method to count by: a ready one is taken over by the bench; another edge rule makes the next version. */
async function methodFor(
  client: Client,
  { method, definition }: OfferedMethod,
  edgeRuleId: string,
  requestId: string,
): Promise<Reply<CountMethod>> {
  const rule = definition.edgeRuleId === null ? null : edgeRuleId;
  if (method && rule === definition.edgeRuleId) return { ok: true, value: method };
  return client("countMethods.define", {
    requestId: `${requestId}-m`,
    familyId: method?.familyId ?? null,
    definition: { ...definition, edgeRuleId: rule },
  });
}

/** Opens the count, or those of several samples, with their method first where the bench does not have it yet. @returns the first */
export async function sendCount(
  client: Client,
  values: CountValues,
  offered: OfferedMethod,
  requestId: string,
): Promise<Reply<Count>> {
  const method = await methodFor(client, offered, values.edgeRuleId, requestId);
  if (!method.ok) return method;
  const { sample, customer, note, batch, inputs, categories, listId } = values;
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = values;
  const train = {
    microscopeId,
    eyepieceId,
    intermediateMagnification: intermediateMagnification as NonNullable<
      Count["train"]
    >["intermediateMagnification"],
    objectiveId,
  };
  const asked = inputsAskedBy(offered.definition).map(({ key }) => key);
  const count = {
    customer,
    note,
    batch,
    countMethodId: method.value.id,
    train: needsFactor(offered.definition) ? train : null,
    categories: [...categories],
    categoryListId: listId === "" ? null : listId,
    inputs: Object.fromEntries(
      asked.filter((key) => (inputs[key] ?? "").trim() !== "").map((key) => [key, inputs[key] ?? ""]),
    ),
  };
  if (!isBatch(values)) {
    return client("counts.open", { requestId, count: { ...count, sample }, position: null });
  }
  const opened = await client("counts.openMany", { requestId, count, samples: samplesOf(values) });
  return opened.ok ? { ok: true, value: opened.value[0] as Count } : opened;
}
