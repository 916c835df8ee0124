import fc from "fast-check";
import { expect, it } from "vitest";
import type { StagePosition } from "#core/contract/records/sheet.ts";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import {
  buildScene,
  COVERED_IN_A_DRAWER,
  calibrateTrain,
  type Scene,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { countedIds } from "../../support/fixed-clock.ts";
import { importNotebook } from "../../support/notebook-import.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { exportJson } from "./exported.ts";
import { uploadBytes } from "./upload.ts";

const PATIENCE_MS = 300_000;
const OTHER = "SM other";

/** Invented acts at a sheet; one that the bench refuses, such as striking a row twice, is passed over. */
type Act =
  | {
      readonly do: "enter";
      readonly row: number;
      readonly dimension: string;
      readonly typed: [string, string];
    }
  | {
      readonly do: "describe";
      readonly row: number;
      readonly label: string;
      readonly note: string;
      readonly stage: StagePosition | null;
    }
  | { readonly do: "strike"; readonly row: number }
  | { readonly do: "undo" | "redo" }
  | { readonly do: "turn"; readonly position: number }
  | { readonly do: "calibrate"; readonly position: number }
  | { readonly do: "assess" }
  | { readonly do: "check"; readonly right: string; readonly otherMicrometer: boolean }
  | { readonly do: "withdraw" };

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
      stage: fc.constantFrom(null, { x: "12.4", y: "-3" }, { x: "", y: "1,5", square: "M23" }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("strike" as const), row }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constantFrom("undo" as const, "redo" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({ do: fc.constant("turn" as const), position: fc.integer({ min: 1, max: 2 }) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant("calibrate" as const), position: fc.integer({ min: 1, max: 2 }) }),
  },
  { weight: 3, arbitrary: fc.record({ do: fc.constant("assess" as const) }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant("check" as const),
      // As at the calibration, and far from it.
      right: fc.constantFrom("96.4", "96.5", "93.0"),
      otherMicrometer: fc.boolean(),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("withdraw" as const) }) },
);

/** A second stage micrometer on which nothing but checks rest. Invented. */
async function otherMicrometer(bench: TempBench): Promise<{ micrometerId: string; certificateId: string }> {
  const found = (await bench.call("micrometers.list", {})).find((one) => one.name === OTHER);
  if (found) return { micrometerId: found.id, certificateId: found.certificates[0]?.id ?? "" };
  const micrometer = await bench.call("micrometers.register", {
    requestId: bench.request(),
    micrometer: {
      name: OTHER,
      serial: "2",
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "soda-lime glass",
    },
  });
  const certificate = await bench.call("certificates.register", {
    requestId: bench.request(),
    certificate: {
      stageMicrometerId: micrometer.id,
      number: "C-2",
      laboratory: "Invented Length Laboratory",
      accreditation: "",
      calibratedOn: "2025-06-01",
      dueOn: "2099-06-01",
      dueReason: "kept clean",
      temperature: "20",
      sign: "error",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "1000", value: "0.2" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
  });
  return { micrometerId: micrometer.id, certificateId: certificate.id };
}

async function check(bench: TempBench, scene: Scene, act: Extract<Act, { do: "check" }>): Promise<void> {
  const own = { micrometerId: scene.micrometer.id, certificateId: scene.certificate.id };
  const { micrometerId, certificateId } = act.otherMicrometer ? await otherMicrometer(bench) : own;
  await bench.program.dispatch("checks.record", {
    requestId: bench.request(),
    check: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: micrometerId,
      certificateId,
      settings: [{ reticleLeft: "0", reticleRight: act.right, lineLeft: "0", lineRight: "100" }],
      temperature: "",
      remark: "",
    },
  });
}

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
        stage: act.stage,
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
      return;
    case "assess": {
      const calibrations = await bench.call("calibrations.list", { trainId: null });
      const calibration = calibrations.find(({ state }) => state === "in force");
      const assessed = {
        requestId: bench.request(),
        calibrationId: calibration?.id ?? "none",
        reason: "anew",
      };
      await bench.program.dispatch("calibrations.assess", assessed);
      return;
    }
    case "check":
      return check(bench, scene, act);
    case "withdraw": {
      const [newest] = await bench.call("checks.list", { trainId: null });
      const withdrawn = {
        requestId: bench.request(),
        checkId: newest?.id ?? "none",
        reason: "another objective",
      };
      await bench.program.dispatch("checks.withdraw", withdrawn);
    }
  }
}

it(
  "whatever was done at a sheet, its file gives the same data on an empty bench, and that verifies",
  async () => {
    const seen = {
      amendments: 0,
      earlier: 0,
      struck: 0,
      assessments: 0,
      anew: 0,
      checks: 0,
      withdrawn: 0,
      elsewhere: 0,
    };
    await fc.assert(
      fc.asyncProperty(
        fc.boolean(),
        fc.array(anyAct, { minLength: 6, maxLength: 20 }),
        async (calibrated, acts) => {
          const bench = await tempBench();
          const scene = await buildScene(bench, COVERED_IN_A_DRAWER);
          if (calibrated) await calibrateTrain(bench, scene);
          for (const act of acts) await perform(bench, scene, act);
          const ids = [scene.sheet.id, (await importNotebook(bench, scene)).id];
          const before = SheetDocument.parse(JSON.parse(await exportJson(bench, ids)));
          await bench.end();
          for (const one of before.sheets) {
            seen.amendments += one.amendments.length;
            seen.earlier += one.earlier.results.length;
            seen.elsewhere += one.rows.filter(({ elsewhere }) => elsewhere).length;
            seen.struck += one.sheet.struckCount;
            seen.assessments += one.assessments.length;
            seen.anew += one.assessments.filter(({ reason }) => reason === "anew").length;
            seen.checks += one.checks.length;
            seen.withdrawn += one.checks.filter(({ withdrawn }) => withdrawn !== null).length;
          }

          const empty = await tempBench({ ids: countedIds("new") });
          const uploadId = await uploadBytes(empty, "any.json", Buffer.from(JSON.stringify(before)));
          const personId = scene.personId;
          await empty.call("documents.readIn", { requestId: empty.request(), uploadId, personId });
          const { sheets } = SheetDocument.parse(JSON.parse(await exportJson(empty, ids)));
          expect(sheets).toEqual(before.sheets);
          expect((await empty.call("trail.verify", {})).differences).toEqual([]);
          await empty.end();
        },
      ),
      { numRuns: 15, seed: 4711 },
    );
    // The acts really reach what a file must carry.
    for (const [what, times] of Object.entries(seen)) expect(times, what).toBeGreaterThan(0);
  },
  PATIENCE_MS,
);
