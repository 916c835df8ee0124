import type { Method } from "#core/contract/records/method.ts";
import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { DemoEvent } from "./calibration-history.ts";
import type { DemoOperator } from "./demo-operator.ts";
import { type PollenKind, SHEET_PLANS, type SheetPlan, type Spread } from "./pollen-sheets.ts";
import { BENCH_NAME, INVENTED } from "./registers.ts";
import type { Chance } from "./seeded-chance.ts";
import type { DemoStage } from "./stage.ts";
import { type TrainPlace, trueFactor } from "./true-factors.ts";

/** A reader places the edges to about a tenth of a division. */
const READING_DEVIATION = 0.1;
const SCALE_DIVISIONS = 100;

interface Reading {
  readonly left: string;
  readonly right: string;
}

/** The two readings of one grain, somewhere near the middle of the scale. */
function readingsOf(spread: Spread, factor: number, chance: Chance, offScale: boolean): Reading {
  const [mean, deviation] = spread;
  const divisions = (mean + deviation * chance.normal()) / factor;
  const room = Math.max(2, SCALE_DIVISIONS - divisions - 4);
  const wholeLine = chance.happens(0.4);
  const start = offScale ? SCALE_DIVISIONS + 1.5 - divisions : room * 0.3 + chance.even() * room * 0.4;
  const left = wholeLine ? Math.round(start) : Math.round(start * 10) / 10;
  const right = left + divisions + READING_DEVIATION * chance.normal();
  // On a line the reader types a whole number; between lines the estimated tenth.
  return { left: wholeLine ? String(left) : left.toFixed(1), right: right.toFixed(1) };
}

interface SheetWork {
  readonly operator: DemoOperator;
  readonly plan: SheetPlan;
  readonly method: Method;
  readonly sheet: Sheet;
}

function spreadFor(kind: PollenKind, dimension: string): Spread {
  return dimension === "p" ? kind.polar : kind.equatorial;
}

async function enter(
  { operator, sheet }: SheetWork,
  rowId: string,
  label: string,
  cell: { dimension: string; edge: "left" | "right" },
  typed: string,
): Promise<SpecimenRow> {
  return operator.act("rows.enter", {
    requestId: operator.request(),
    sheetId: sheet.id,
    rowId,
    cell,
    typed,
    label,
  });
}

async function measureGrain(
  work: SheetWork,
  ordinal: number,
  kind: PollenKind,
  place: TrainPlace,
): Promise<void> {
  const { operator, plan, sheet, method } = work;
  const rowId = operator.chance.id();
  const incident = plan.incidents.find((one) => one.row === ordinal);
  const factor = trueFactor(place, plan.daysAgo);
  const last = method.definition.dimensions.at(-1);
  for (const { key: dimension } of method.definition.dimensions) {
    const { left, right } = readingsOf(
      spreadFor(kind, dimension),
      factor,
      operator.chance,
      incident?.what === "off-scale",
    );
    const reversed = incident?.what === "reversed";
    await enter(work, rowId, kind.label, { dimension, edge: "left" }, reversed ? right : left);
    if (incident?.what === "half-read" && dimension === last?.key) continue;
    if (incident?.what === "amend" && dimension === last?.key) {
      // A slip of the key, noticed at once.
      const slip = String(Number(right) + 10);
      await enter(work, rowId, kind.label, { dimension, edge: "right" }, slip);
    }
    await enter(work, rowId, kind.label, { dimension, edge: "right" }, reversed ? left : right);
  }
  operator.clock.advance(15);
  const address = { requestId: operator.request(), sheetId: sheet.id, rowId };
  if (incident?.what === "strike") await operator.act("rows.strike", { ...address, reason: incident.words });
  if (incident?.what === "note") {
    await operator.act("rows.describe", { ...address, label: kind.label, note: incident.words });
  }
}

async function measureSheet(operator: DemoOperator, stage: DemoStage, plan: SheetPlan): Promise<void> {
  await operator.sit(stage.people[plan.by]);
  const method = stage.methods[plan.method];
  const train = stage.trainOf(plan.place);
  const sheet = await operator.act(
    "sheets.open",
    {
      requestId: operator.request(),
      sheet: {
        sample: plan.sample,
        note: `${BENCH_NAME}. ${INVENTED}`,
        methodId: method.id,
        microscopeId: train.microscopeId,
        eyepieceId: train.eyepieceId,
        intermediateMagnification: train.intermediateMagnification,
        objectiveId: train.objectiveId,
      },
    },
    90,
  );
  const work = { operator, plan, method, sheet };
  let place = plan.place;
  let ordinal = 0;
  for (const [kind, count] of plan.grains) {
    for (let i = 0; i < count; i++) {
      ordinal += 1;
      const turn = plan.turns.find(([row]) => row === ordinal);
      if (turn !== undefined) {
        place = { ...place, position: turn[1] };
        const objectiveId = stage.trainOf(place).objectiveId;
        await operator.act(
          "sheets.chooseObjective",
          { requestId: operator.request(), sheetId: sheet.id, objectiveId },
          40,
        );
      }
      await measureGrain(work, ordinal, kind, place);
    }
  }
  if (plan.reviewer) await closeAndReview(work, stage.people[plan.reviewer], stage.people[plan.by]);
}

async function closeAndReview(
  { operator, plan, sheet }: SheetWork,
  reviewerId: string,
  readerId: string,
): Promise<void> {
  const about = { sheetId: sheet.id };
  await operator.act("sheets.close", { requestId: operator.request(), ...about, words: INVENTED }, 600);
  await operator.sit(reviewerId);
  const words = `Ten rows of ${plan.sample} recomputed from their readings. ${INVENTED}`;
  await operator.act("sheets.review", { requestId: operator.request(), ...about, words }, 300);
  await operator.sit(readerId);
}

/** The sheets of the bench, each on its day. */
export function sheetEvents(): DemoEvent[] {
  return SHEET_PLANS.map((plan) => ({
    daysAgo: plan.daysAgo,
    time: plan.time,
    run: (operator, stage) => measureSheet(operator, stage, plan),
  }));
}
