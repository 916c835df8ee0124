import { randomInt } from "node:crypto";
import type { Count } from "#core/contract/records/count.ts";
import type { Recount } from "#core/contract/records/recount.ts";
import { STORED } from "#core/contract/stored-names.ts";
import { readObjects, sumOfObjects } from "#core/counting/inputs/counting-unit.ts";
import { chooseForRecount } from "#core/counting/recounts/recount-choice.ts";
import { type CountOfFields, recountReport } from "#core/counting/recounts/recount-report.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, readDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { fieldsOfCount } from "../../store/repositories/count-event-repository.ts";
import {
  findRecount,
  finishRecount,
  insertRecount,
  listRecounts,
  putRecountEntry,
  recountsOfPlan,
} from "../../store/repositories/recount-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { requireCount } from "./count-lookup.ts";

const CHANCE_STEPS = 2 ** 40;

/** Numbers in [0, 1) from the machine's own source: what was drawn is written down, so nobody needs to draw it again. */
function chance(): number {
  return randomInt(CHANCE_STEPS) / CHANCE_STEPS;
}

function requireRecount(db: ReadableDb, id: string): Recount {
  const recount = findRecount(db, id);
  if (recount) return recount;
  throw new Refusal("recount.unknown", "That recount is not on this bench.", { field: "recountId" });
}

function requireOpen(recount: Recount): void {
  if (recount.finishedAt === null) return;
  throw new Refusal("recount.finished", "This recount is finished and its first result uncovered.", {
    hint: "Plan another recount.",
  });
}

function requireClosed(db: ReadableDb, id: string): Count {
  const count = requireCount(db, id);
  if (count.state === "closed") return count;
  throw new Refusal("count.open", `Count ${count.number} is not closed yet.`, {
    field: "countId",
    hint: "Close the count, then plan its recount.",
  });
}

/** Fields that were counted to their end. */
function countedFields(count: Count): number[] {
  const last = count.lastFieldCounted ? count.currentField : count.currentField - 1;
  return Array.from({ length: last }, (_, i) => i + 1);
}

type PlanAct = "recounts.planFields" | "recounts.planSlides";
type NewRecount = Pick<Recount, "id" | "countId" | "kind" | "share" | "fields">;

function plan(ctx: WriteContext, act: PlanAct, planId: string, recount: NewRecount): void {
  insertRecount(ctx.db, planId, { ...recount, plannedAt: ctx.at, plannedBy: ctx.by.id });
  const { id, countId, kind, share, fields } = recount;
  ctx.audit({
    act,
    subject: "recount",
    subjectId: id,
    detail: { planId, [STORED.countId]: countId, kind, share, fields },
  });
}

type EnteredCounts = Readonly<Record<string, string>>;

function requireCounts(count: Count, counts: EnteredCounts): void {
  for (const [key, typed] of Object.entries(counts)) {
    const category = count.categories.find((one) => one.key === key);
    if (!category) {
      throw new Refusal("category.unknown", "The count has no such category.", { field: `counts.${key}` });
    }
    readObjects(`counts.${key}`, typed, category);
  }
}

function requireDrawn(recount: Recount, field: number): void {
  if (recount.kind === "slide" || recount.fields.includes(field)) return;
  throw new Refusal("field.unknown", `Field ${field} was not drawn for this recount.`, {
    field: "field",
    hint: `Drawn: ${recount.fields.join(", ")}.`,
  });
}

function secondCount({ entries }: Recount): CountOfFields {
  const byCategory: Record<string, number> = {};
  for (const { counts } of entries) {
    for (const [key, typed] of Object.entries(counts)) {
      byCategory[key] = sumOfObjects([byCategory[key] ?? 0, readDecimal(key, typed).value.toNumber()]);
    }
  }
  return { fields: entries.length, byCategory };
}

function firstCount(db: ReadableDb, recount: Recount, count: Count): CountOfFields {
  const wanted = new Set(recount.kind === "slide" ? countedFields(count) : recount.fields);
  const byCategory: Record<string, number> = {};
  for (const field of fieldsOfCount(db, count.id, count.currentField)) {
    if (!wanted.has(field.ordinal)) continue;
    for (const [key, n] of Object.entries(field.counts)) {
      byCategory[key] = sumOfObjects([byCategory[key] ?? 0, Number(n)]);
    }
  }
  return { fields: wanted.size, byCategory };
}

function requireComplete(recount: Recount): void {
  const open = recount.fields.filter((field) => !recount.entries.some((entry) => entry.field === field));
  if (open.length === 0 && recount.entries.length > 0) return;
  throw new Refusal("recount.incomplete", "Not every field of this recount has been entered.", {
    hint: open.length > 0 ? `Still to count: ${open.join(", ")}.` : "Enter at least one field.",
  });
}

function finish(ctx: WriteContext, recount: Recount, deviation: DecimalText | null): Recount {
  requireOpen(recount);
  requireComplete(recount);
  const count = requireCount(ctx.db, recount.countId);
  const report = recountReport({
    categories: count.categories,
    first: firstCount(ctx.db, recount, count),
    second: secondCount(recount),
    intracounterDeviation: deviation && decimal(deviation),
    sameCounter: recount.entries.every((entry) => entry.by === count.openedBy),
  });
  finishRecount(ctx.db, recount.id, { at: ctx.at, by: ctx.by.id, report });
  ctx.audit({ act: "recounts.finish", subject: "recount", subjectId: recount.id, detail: { report } });
  return requireRecount(ctx.db, recount.id);
}

export function recountServices(deps: Deps) {
  return handlers({
    "recounts.list": ({ countId }) => listRecounts(deps.db, countId),
    "recounts.get": ({ recountId }) => requireRecount(deps.db, recountId),

    "recounts.planFields": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const count = requireClosed(ctx.db, input.countId);
          const counted = countedFields(count);
          if (counted.length === 0) throw new InputError("countId", "has no field counted to its end");
          const fields = [...chooseForRecount(counted, Number(input.share), chance)].sort(
            (one, other) => one - other,
          );
          const id = deps.ids.next();
          plan(ctx, "recounts.planFields", id, {
            id,
            countId: count.id,
            kind: "fields",
            share: input.share,
            fields,
          });
          return requireRecount(ctx.db, id);
        },
        findRecount,
      ),

    "recounts.planSlides": (input, call) => {
      const { id } = inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const counts = [...new Set(input.countIds)].map((id) => requireClosed(ctx.db, id));
          const planId = deps.ids.next();
          for (const count of chooseForRecount(counts, Number(input.share), chance)) {
            plan(ctx, "recounts.planSlides", planId, {
              id: deps.ids.next(),
              countId: count.id,
              kind: "slide",
              share: input.share,
              fields: [],
            });
          }
          return { id: planId };
        },
        (_db, id) => ({ id }),
      );
      return recountsOfPlan(deps.db, id);
    },

    "recounts.enter": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const recount = requireRecount(ctx.db, input.recountId);
          requireOpen(recount);
          requireDrawn(recount, input.field);
          requireCounts(requireCount(ctx.db, recount.countId), input.counts);
          const before = recount.entries.find((entry) => entry.field === input.field);
          const { field, counts } = input;
          putRecountEntry(ctx.db, recount.id, { field, counts, at: ctx.at, by: ctx.by.id });
          ctx.audit({
            act: "recounts.enter",
            subject: "recount",
            subjectId: recount.id,
            detail: { field, from: before?.counts ?? null, to: counts },
          });
          return requireRecount(ctx.db, recount.id);
        },
        findRecount,
      ),

    "recounts.finish": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => finish(ctx, requireRecount(ctx.db, input.recountId), input.intracounterDeviation),
        findRecount,
      ),
  });
}
