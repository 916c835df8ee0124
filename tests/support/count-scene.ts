import type { Count, CountingEcho } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import type { Scene } from "./bench-scenes.ts";
import type { TempBench } from "./temp-bench.ts";

const ONE_TIMES = "1" as NonNullable<Count["train"]>["intermediateMagnification"];

export interface CountOptions {
  readonly definition?: CountMethodDefinition;
  readonly inputs?: Count["inputs"];
  readonly withTrain?: boolean;
  readonly categoryListId?: string;
}

/** Defines a count method and opens a count under it; all of it invented. */
export async function openCount(
  bench: Pick<TempBench, "call" | "request">,
  scene: Scene,
  {
    definition = UTERMOHL_FIELDS,
    inputs = { side: "25" },
    withTrain = true,
    categoryListId,
  }: CountOptions = {},
): Promise<Count> {
  const known = await bench.call("countMethods.list", {});
  const method =
    known.find((one) => one.definition.name === definition.name) ??
    (await bench.call("countMethods.define", { requestId: bench.request(), familyId: null, definition }));
  return bench.call("counts.open", {
    requestId: bench.request(),
    position: null,
    count: {
      sample: "Mere 3, 0.5 m",
      customer: "Water Board West",
      note: "",
      countMethodId: method.id,
      train: withTrain
        ? {
            microscopeId: scene.microscope.id,
            eyepieceId: scene.microscope.eyepieces[0]?.id ?? "",
            intermediateMagnification: ONE_TIMES,
            objectiveId: scene.microscope.objectives[0]?.id ?? "",
          }
        : null,
      categories: definition.categories,
      ...(categoryListId === undefined ? {} : { categoryListId }),
      inputs: { ...definition.suggestedInputs, ...inputs },
      batch: "",
    },
  });
}

/** The keys of a count. */
export function handOf(bench: Pick<TempBench, "call" | "request">, countId: string) {
  const base = () => ({ requestId: bench.request(), waitedMs: 0 });
  return {
    press: (category = "diatoms", weight = "1", rowId: string | null = null): Promise<CountingEcho> =>
      bench.call("counts.press", { countId, act: { kind: "press", ...base(), category, weight, rowId } }),
    field: (position: { x: string; y: string } | null = null): Promise<CountingEcho> =>
      bench.call("counts.newField", { countId, act: { kind: "field", ...base(), position } }),
    undo: (): Promise<CountingEcho> =>
      bench.call("counts.undo", { countId, act: { kind: "undo", ...base() } }),
    state: () => bench.call("counts.state", { countId }),
  };
}
