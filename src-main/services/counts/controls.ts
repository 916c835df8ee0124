import type { ParsedInput } from "#core/contract/calls.ts";
import type { ControlKind, ControlSample, ControlSeries } from "#core/contract/records/control-sample.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import { requireControlSample } from "#core/counting/controls/control-found.ts";
import { type ControlCount, controlSeries } from "#core/counting/controls/control-series.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { storedCountMethods } from "../../store/repositories/count-method-repository.ts";
import { closedControls, findCount, updateCount } from "../../store/repositories/count-repository.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";
import type { WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";

/** So many control samples of a series are shown. */
const MOST_OF_SERIES = 500;

function requireOther(db: ReadableDb, count: Count, ofCountId: string): void {
  const other = findCount(db, ofCountId);
  if (!other) {
    throw new Refusal("count.unknown", "The count it is a duplicate of is not on this bench.", {
      field: "control.ofCountId",
      hint: "Choose another count of the same sample.",
    });
  }
  if (other.id === count.id) throw new InputError("control.ofCountId", "is this count itself");
  if (other.control?.kind === "duplicate") {
    throw new InputError(
      "control.ofCountId",
      `is a duplicate itself: choose the count that ${other.number} repeats`,
    );
  }
  const [own, others] = [count, other].map(
    ({ countMethodId }) => requireCountMethodById(db, countMethodId, "countId").familyId,
  );
  if (own !== others) throw new InputError("control.ofCountId", "was counted by another method");
}

function requireControl(db: ReadableDb, count: Count, control: ControlSample): void {
  if (control.kind === "duplicate") requireOther(db, count, control.ofCountId);
  const { definition } = requireCountMethodById(db, count.countMethodId, "countId");
  withFieldPrefix("control", () => requireControlSample(control, definition, count.categories));
}

/** Says what control sample a count is, another one, or none; its frozen results stay. */
export function setControl(
  ctx: WriteContext,
  count: Count,
  { control, reason }: ParsedInput<"counts.setControl">,
): Count {
  const before = count.control ?? null;
  if (!before && !control) return count;
  if (before && reason === "") {
    throw new InputError("reason", "is needed: something else was said before, and stays in the trail");
  }
  if (control) requireControl(ctx.db, count, control);
  const { control: _, ...rest } = count;
  const changed: Count = control ? { ...rest, control } : rest;
  updateCount(ctx.db, changed);
  ctx.audit({
    act: "counts.setControl",
    subject: "count",
    subjectId: count.id,
    ...(reason === "" ? {} : { reason }),
    detail: { control: { from: before, to: control } },
  });
  return changed;
}

function newestOf(db: ReadableDb, familyId: string): CountMethod {
  const found = storedCountMethods.listNewest(db).find((one) => one.familyId === familyId);
  if (found) return found;
  throw new Refusal("countMethod.unknown", "That count method is not on this bench.", {
    field: "familyId",
    hint: "Choose one of the list.",
  });
}

function controlCount(db: ReadableDb, count: Count): ControlCount | null {
  const { id, number, sample, closedAt, categories, control, results } = count;
  if (!control || !results || closedAt === null) return null;
  const other = control.kind === "duplicate" ? findCount(db, control.ofCountId) : null;
  return {
    ...{ id, number, sample, closedAt, categories, control, results },
    other: other && { number: other.number, results: other.results },
  };
}

/** The closed control samples of one kind by any version of a method. @throws Refusal `countMethod.unknown` */
export function controlsOf(
  db: ReadableDb,
  { familyId, kind }: { readonly familyId: string; readonly kind: ControlKind },
): ControlSeries {
  const { definition } = newestOf(db, familyId);
  const counts = closedControls(db, familyId, kind, MOST_OF_SERIES).flatMap(
    (count) => controlCount(db, count) ?? [],
  );
  return controlSeries(kind, definition, counts);
}
