import type { CallInput } from "#core/contract/calls.ts";
import type { Count, CountingEcho, FieldPosition } from "#core/contract/records/count.ts";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";
import type { Scene } from "./bench-scenes.ts";
import type { TempBench } from "./temp-bench.ts";

const ONE_TIMES = "1" as NonNullable<Count["train"]>["intermediateMagnification"];

export interface CountOptions {
  readonly definition?: CountMethodDefinition;
  readonly inputs?: Count["inputs"];
  readonly withTrain?: boolean;
  readonly categoryListId?: string;
}

/** Defines a count method and makes a new count under it, to be opened; all of it invented. */
export async function newCount(
  bench: Pick<TempBench, "call" | "request">,
  scene: Scene,
  {
    definition = UTERMOHL_FIELDS,
    inputs = { side: "25" },
    withTrain = true,
    categoryListId,
  }: CountOptions = {},
): Promise<CallInput<"counts.open">["count"]> {
  const known = await bench.call("countMethods.list", {});
  const method =
    known.find((one) => one.definition.name === definition.name) ??
    (await bench.call("countMethods.define", { requestId: bench.request(), familyId: null, definition }));
  return {
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
  };
}

/** Opens a count as `newCount` makes it. */
export async function openCount(
  bench: Pick<TempBench, "call" | "request">,
  scene: Scene,
  options: CountOptions = {},
): Promise<Count> {
  const count = await newCount(bench, scene, options);
  return bench.call("counts.open", { requestId: bench.request(), position: null, count });
}

/** The keys of a count. */
export function handOf(bench: Pick<TempBench, "call" | "request">, countId: string) {
  const base = () => ({ requestId: bench.request(), waitedMs: 0 });
  return {
    press: (category = "diatoms", weight = "1", rowId: string | null = null): Promise<CountingEcho> =>
      bench.call("counts.press", { countId, act: { kind: "press", ...base(), category, weight, rowId } }),
    field: (position: FieldPosition | null = null): Promise<CountingEcho> =>
      bench.call("counts.newField", { countId, act: { kind: "field", ...base(), position } }),
    undo: (): Promise<CountingEcho> =>
      bench.call("counts.undo", { countId, act: { kind: "undo", ...base() } }),
    state: () => bench.call("counts.state", { countId }),
  };
}

/** Opens a sheet of prolate spheroids on the 10× and measures one cell for each pair of divisions; all of it invented. */
export async function measuredCells(
  bench: Pick<TempBench, "call" | "request">,
  scene: Scene,
  cells: readonly (readonly [diameter: string, length: string])[],
  label = "diatoms",
): Promise<Sheet> {
  const { call, request } = bench;
  const ready = READY_METHODS.find(({ id }) => id === "biovolume-spheroid");
  if (!ready) throw new Error("no ready method for spheroids");
  const defined = (await call("methods.list", {})).find(
    ({ definition }) => definition.name === ready.definition.name,
  );
  const method =
    defined ??
    (await call("methods.define", {
      requestId: request(),
      familyId: null,
      definition: { ...ready.definition, entry: "direct" },
    }));
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = scene.sheet;
  const sheet = await call("sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Cells of Mere 3",
      customer: "",
      note: "",
      methodId: method.id,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    },
  });
  for (const [i, [d, h]] of cells.entries()) {
    for (const [dimension, typed] of [
      ["d", d],
      ["h", h],
    ] as const) {
      await call("rows.enter", {
        requestId: request(),
        sheetId: sheet.id,
        rowId: `cell-${sheet.number}-${i}`,
        cell: { dimension, edge: "direct" },
        typed,
        label,
      });
    }
  }
  return sheet;
}
