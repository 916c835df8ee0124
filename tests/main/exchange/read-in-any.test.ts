import fc from "fast-check";
import { expect, it } from "vitest";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import {
  buildScene,
  COVERED_IN_A_DRAWER,
  calibrateTrain,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { countedIds } from "../../support/fixed-clock.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { exportJson } from "./exported.ts";
import { uploadBytes } from "./upload.ts";

const PATIENCE_MS = 300_000;

/** Invented acts at a sheet; one that the bench refuses, such as striking a row twice, is passed over. */
type Act =
  | {
      readonly do: "enter";
      readonly row: number;
      readonly dimension: string;
      readonly typed: [string, string];
    }
  | { readonly do: "describe"; readonly row: number; readonly label: string; readonly note: string }
  | { readonly do: "strike"; readonly row: number }
  | { readonly do: "undo" | "redo" }
  | { readonly do: "turn"; readonly position: number }
  | { readonly do: "calibrate"; readonly position: number };

const row = fc.integer({ min: 1, max: 5 });
const tenths = fc.integer({ min: 0, max: 999 }).map((n) => (n / 10).toFixed(n % 2));
const anyAct: fc.Arbitrary<Act> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      do: fc.constant("enter" as const),
      row,
      dimension: fc.constantFrom("length", "width"),
      typed: fc.tuple(tenths, tenths),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant("describe" as const),
      row,
      label: fc.constantFrom("Tilia 1", "=Calluna", "µ-grain", ""),
      note: fc.string({ unit: "grapheme", maxLength: 30 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("strike" as const), row }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constantFrom("undo" as const, "redo" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant("turn" as const), position: fc.integer({ min: 1, max: 2 }) }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant("calibrate" as const), position: fc.integer({ min: 1, max: 2 }) }),
  },
);

async function perform(bench: TempBench, scene: Scene, act: Act): Promise<void> {
  const sheetId = scene.sheet.id;
  const about = { requestId: bench.request(), sheetId };
  const dispatch = (name: string, input: object) => bench.program.dispatch(name, { ...about, ...input });
  switch (act.do) {
    case "enter":
      for (const [at, edge] of ["left", "right"].entries()) {
        const cell = { dimension: act.dimension, edge };
        await dispatch("rows.enter", {
          requestId: bench.request(),
          rowId: `row-${act.row}`,
          cell,
          typed: act.typed[at],
          label: "",
        });
      }
      return;
    case "describe":
      await dispatch("rows.describe", {
        rowId: `row-${act.row}`,
        label: act.label,
        note: act.note,
        stage: null,
      });
      return;
    case "strike":
      await dispatch("rows.strike", { rowId: `row-${act.row}`, reason: "squashed" });
      return;
    case "undo":
    case "redo":
      await dispatch(`rows.${act.do}`, {});
      return;
    case "turn":
      await dispatch("sheets.chooseObjective", {
        objectiveId: trainOfPosition(scene, act.position).objectiveId,
      });
      return;
    case "calibrate":
      await calibrateTrain(
        bench,
        scene,
        act.position === 1 ? {} : { position: 2, right: "100", lineRight: "25" },
      );
  }
}

it(
  "whatever was done at a sheet, its file gives the same data on an empty bench, and that verifies",
  async () => {
    const seen = { amendments: 0, earlier: 0, struck: 0 };
    await fc.assert(
      fc.asyncProperty(fc.array(anyAct, { minLength: 4, maxLength: 14 }), async (acts) => {
        const bench = await tempBench();
        const scene = await buildScene(bench, COVERED_IN_A_DRAWER);
        for (const act of acts) await perform(bench, scene, act);
        const before = SheetDocument.parse(JSON.parse(await exportJson(bench, [scene.sheet.id])));
        await bench.end();
        for (const one of before.sheets) {
          seen.amendments += one.amendments.length;
          seen.earlier += one.earlier.results.length;
          seen.struck += one.sheet.struckCount;
        }

        const empty = await tempBench({ ids: countedIds("new") });
        const uploadId = await uploadBytes(empty, "any.json", Buffer.from(JSON.stringify(before)));
        const personId = scene.personId;
        await empty.call("documents.readIn", { requestId: empty.request(), uploadId, personId });
        const { sheets } = SheetDocument.parse(JSON.parse(await exportJson(empty, [scene.sheet.id])));
        expect(sheets).toEqual(before.sheets);
        expect((await empty.call("trail.verify", {})).differences).toEqual([]);
        await empty.end();
      }),
      { numRuns: 15, seed: 4711 },
    );
    // The acts really reach what a file must carry.
    expect(Math.min(seen.amendments, seen.earlier, seen.struck)).toBeGreaterThan(0);
  },
  PATIENCE_MS,
);
