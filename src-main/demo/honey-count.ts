import type { Count, CountingAct } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { stoppingBy } from "#core/counting/methods/method-parts.ts";
import { HONEY_CLASSES } from "#core/counting/methods/ready-pollen-methods.ts";
import type { DemoEvent } from "./calibration-history.ts";
import type { DemoOperator } from "./demo-operator.ts";
import { INVENTED } from "./registers.ts";
import { seededChance } from "./seeded-chance.ts";
import type { DemoStage } from "./stage.ts";

const GRAINS = 500;
/** Grains after which the evening ends; the next morning goes on at the same field. */
const BEFORE_THE_NIGHT = 290;
const GRAINS_PER_FIELD = 16;
const SEED = 1_952;

/** Shares of a summer honey, invented; the last keeps the other nectar plants. */
const SHARES: readonly (readonly [category: string, share: number])[] = [
  ["trifolium", 0.47],
  ["rubus", 0.19],
  ["tilia", 0.13],
  ["brassica", 0.08],
  ["castanea", 0.04],
  ["calluna", 0.02],
  ["other_nectar", 0.07],
];

/** Honey classes with the area of each field, so that the factor is in the result. */
function demoMethod(): CountMethodDefinition {
  return {
    ...HONEY_CLASSES,
    name: "Honey, 500 grains with their fields",
    area: { kind: "circle" },
    density: { kind: "per-area" },
    stopping: stoppingBy("honey-500"),
    note: `${INVENTED} Classes as usual, and grains per mm² of the mount.`,
    source: `${INVENTED} Classes: ${HONEY_CLASSES.source}`,
    standing: "own",
  };
}

async function openIt(operator: DemoOperator, stage: DemoStage): Promise<Count> {
  const definition = demoMethod();
  const method = await operator.act(
    "countMethods.define",
    { requestId: operator.request(), familyId: null, definition },
    30,
  );
  const train = stage.trainOf({ stand: "window", eyepiece: 0, position: 4 });
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = train;
  return operator.act(
    "counts.open",
    {
      requestId: operator.request(),
      position: { x: "21.0", y: "8.0" },
      count: {
        sample: "Clover honey HM-181 (invented)",
        note: "one mount, fields along parallel lines",
        countMethodId: method.id,
        train: { microscopeId, eyepieceId, intermediateMagnification, objectiveId },
        categories: definition.categories,
        inputs: { diameter: "96.0", readingUncertainty: "0.2" },
        batch: "",
      },
    },
    5,
  );
}

interface Counting {
  readonly operator: DemoOperator;
  readonly countId: string;
  readonly chance: ReturnType<typeof seededChance>;
  grains: number;
  field: number;
}

function kindOf(chance: Counting["chance"]): string {
  let rest = chance.even();
  for (const [category, share] of SHARES) {
    rest -= share;
    if (rest < 0) return category;
  }
  return "other_nectar";
}

/** What the hand does in one field, with the second at which each act fell. */
type Timed = { readonly at: number } & (
  | { readonly kind: "press"; readonly category: string }
  | { readonly kind: "undo" }
);

/** One field: its grains, now and then honeydew or a doubtful object, seldom a wrong key taken back. */
function actsOfField({ chance }: Counting): { readonly acts: readonly Timed[]; readonly grains: number } {
  const acts: Timed[] = [];
  let at = 0;
  const press = (category: string) => {
    at += chance.between(0.4, 1.6);
    acts.push({ at, kind: "press", category });
  };
  const grains = Math.max(0, Math.round(GRAINS_PER_FIELD + 4 * chance.normal()));
  for (let i = 0; i < grains; i += 1) {
    press(kindOf(chance));
    if (chance.happens(0.015)) {
      at += 1;
      acts.push({ at, kind: "undo" });
      press(kindOf(chance));
    }
    if (chance.happens(0.04)) press("honeydew");
    if (chance.happens(0.01)) press("doubtful");
  }
  return { acts, grains };
}

/** The presses of a field go in together, each dated when it was made: the history runs through quickly. */
async function countField(counting: Counting): Promise<void> {
  const { operator, countId } = counting;
  const { acts, grains } = actsOfField(counting);
  counting.grains += grains;
  const last = acts.at(-1);
  if (!last) return;
  operator.clock.advance(last.at);
  const sent = acts.map(({ at, ...act }): CountingAct => {
    const base = { requestId: operator.request(), waitedMs: Math.round((last.at - at) * 1000) };
    return act.kind === "undo" ? { ...base, kind: "undo" } : { ...base, ...act, weight: "1", rowId: null };
  });
  await operator.act("counts.pressMany", { countId, acts: sent }, 1);
}

async function nextField(counting: Counting): Promise<void> {
  const { operator, countId } = counting;
  counting.field += 1;
  const line = Math.floor((counting.field - 1) / 8);
  const along = (counting.field - 1) % 8;
  const position = { x: (21 + 0.8 * along).toFixed(1), y: (8 + 0.5 * line).toFixed(1) };
  const act = { kind: "field" as const, requestId: operator.request(), position, waitedMs: 0 };
  await operator.act("counts.newField", { countId, act }, 6);
}

/** Counts until there are so many grains; a field once begun is counted to its end. */
async function countTo(counting: Counting, grains: number): Promise<void> {
  await countField(counting);
  while (counting.grains < grains) {
    await nextField(counting);
    await countField(counting);
  }
}

/**
 * The demonstration's count of 500 grains with their fields: begun on an evening, paused, finished the next morning.
 * Has chance of its own, so that it changes nothing else of the scenario.
 */
export function countEvents(): readonly DemoEvent[] {
  const chance = seededChance(SEED);
  let counting: Counting | null = null;
  return [
    {
      daysAgo: 2,
      time: "15:40",
      async run(operator, stage) {
        await operator.sit(stage.people.maren);
        const count = await openIt(operator, stage);
        counting = { operator, countId: count.id, chance, grains: 0, field: 1 };
        await countTo(counting, BEFORE_THE_NIGHT);
        await operator.act("counts.pause", { requestId: operator.request(), countId: count.id });
      },
    },
    {
      daysAgo: 1,
      time: "08:30",
      async run(operator, stage) {
        if (!counting) throw new Error("the count was not begun");
        const { countId } = counting;
        await operator.sit(stage.people.maren);
        await operator.act("counts.resume", { requestId: operator.request(), countId });
        await nextField(counting);
        await countTo(counting, GRAINS);
        await operator.act("counts.close", {
          requestId: operator.request(),
          countId,
          lastFieldCounted: true,
        });
      },
    },
  ];
}
