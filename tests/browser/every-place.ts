import type { Page } from "@playwright/test";
import type { CountMethodDefinition } from "#core/contract/records/count-method.ts";
import { READY_COUNT_METHODS } from "#core/counting/methods/ready-count-methods.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import {
  ABOUT_PARTS,
  COUNT_PARTS,
  type Location,
  REGISTERS,
  TABS,
  TREND_PARTS,
} from "#renderer/window/location.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { seededCount } from "./count-keys.ts";
import { enterRows } from "./measure-window.ts";

export interface Place {
  readonly name: string;
  readonly at: Location;
  /** Waited for: only this place shows it. */
  readonly shows?: string;
}

/** Everything a bench can show: the invented demo bench, long lists of long names, and work under way on each screen. */
export async function everyPlace(page: Page, longRows: number): Promise<readonly Place[]> {
  const [first] = await callFrom(page, "sheets.list", {});
  if (!first) throw new Error("the demo bench has sheets");
  const method = await callFrom(page, "methods.define", {
    requestId: newRequest(),
    familyId: null,
    definition: {
      name: "Length of grains, read once",
      dimensions: [{ key: "length", name: "Length" }],
      edgeConvention: "outer edge of the wall",
      reading: defaultTypedReadingConditions(),
      coverage: "t95",
      rounding: "half-even",
      minimumDivisions: "10",
      note: "",
    },
  });
  const methodId = method.id;
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = first;
  const sheetIds: string[] = [];
  for (let number = 1; number <= 30; number += 1) {
    const sample = `Invented heather honey, hive ${number}, second drawing, layer ${number} of the box`;
    const sheet = {
      sample,
      note: "",
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    };
    sheetIds.push((await callFrom(page, "sheets.open", { requestId: newRequest(), sheet })).id);
  }
  const longSheet = sheetIds[0] ?? "";
  const lines = Array.from({ length: longRows }, (_, at) => `G${at + 1}\t${at % 40}\t${(at % 40) + 31.5}`);
  await enterRows(page, longSheet, lines.join("\n"));
  await enterRows(page, sheetIds[1] ?? "", lines.slice(0, 60).join("\n"));
  const { definition } = READY_COUNT_METHODS.find(({ id }) => id === "honey-classes") ?? {};
  const countIds: string[] = [];
  for (let number = 1; number <= 12; number += 1) {
    countIds.push(await seededCount(page, named(definition, `Honey classes ${number}`)));
  }
  const micrometers = await callFrom(page, "micrometers.list", {});
  const micrometer = micrometers.find(({ certificates }) => certificates.length > 0);
  const { microscopes } = await callFrom(page, "bench.overview", {});
  const trainId = microscopes[0]?.trains[0]?.train.id ?? "";
  const draft = await callFrom(page, "calibrations.begin", {
    requestId: newRequest(),
    calibration: {
      trainId,
      stageMicrometerId: micrometer?.id ?? "",
      certificateId: micrometer?.certificates[0]?.id ?? "",
    },
  });
  const settings = ["96.4", "96.9", "96.6", "96.5", "96.7"].map((reticleRight) => ({
    reticleLeft: "0.0",
    reticleRight,
    lineLeft: "0",
    lineRight: "100",
  }));
  await callFrom(page, "calibrations.keepDraft", {
    calibrationId: draft.id,
    settings,
    conditions: draft.conditions,
    estimator: draft.estimator,
    coverage: draft.coverage,
    remark: "",
  });
  const { calibrations } = await callFrom(page, "calibrations.summaries", {
    state: null,
    from: 0,
    count: 50,
  });
  const rows = await callFrom(page, "rows.page", { sheetId: longSheet, from: 1, count: 1 });
  const dimension = rows.rows[0]?.measurements[0]?.dimension ?? "";
  const microscopeAt = microscopes[0]?.microscope.id ?? null;
  const registers =
    (form: "new" | "objective" | "eyepiece" | "certificate" | "version" | "card" | "labels") =>
    (register: (typeof REGISTERS)[number], recordId: string | null): Place => ({
      name: `registers-${register}-${form}`,
      at: { screen: "registers", register, recordId, form },
    });
  const [aMethod] = await callFrom(page, "methods.list", {});
  return [
    { name: "bench", at: { screen: "bench" } },
    { name: "calibrate", at: { screen: "calibrate", trainId: null, calibrationId: null } },
    { name: "calibrate-at-work", at: { screen: "calibrate", trainId, calibrationId: draft.id } },
    { name: "quick-check", at: { screen: "calibrate", trainId, calibrationId: null, check: true } },
    { name: "measure", at: { screen: "measure", sheetId: null } },
    { name: "measure-long", at: { screen: "measure", sheetId: longSheet } },
    { name: "measure-short", at: { screen: "measure", sheetId: sheetIds[1] ?? "" } },
    { name: "measure-demo", at: { screen: "measure", sheetId: first.id } },
    { name: "second-readings", at: { screen: "measure", sheetId: first.id, second: "list" } },
    ...COUNT_PARTS.map(
      (part): Place => ({ name: `count-${part}`, at: { screen: "count", part, recordId: null } }),
    ),
    { name: "count-at-work", at: { screen: "count", part: "counts", recordId: countIds[0] ?? "" } },
    ...TREND_PARTS.map(
      (part): Place => ({ name: `trends-${part}`, at: { screen: "trends", part, subjectId: null } }),
    ),
    ...REGISTERS.map(
      (register): Place => ({
        name: `registers-${register}`,
        at: { screen: "registers", register, recordId: null, form: null },
      }),
    ),
    registers("new")("people", null),
    registers("new")("microscopes", null),
    registers("objective")("microscopes", microscopeAt),
    registers("card")("microscopes", microscopeAt),
    registers("new")("micrometers", null),
    registers("certificate")("micrometers", micrometer?.id ?? null),
    registers("new")("methods", null),
    registers("version")("methods", aMethod?.id ?? null),
    ...TABS.filter((tab) => tab !== "report").map(
      (tab): Place => ({ name: `records-${tab}`, at: { screen: "records", tab, recordId: null } }),
    ),
    { name: "records-sheet", at: { screen: "records", tab: "sheets", recordId: first.id } },
    {
      name: "records-calibration",
      at: {
        screen: "records",
        tab: "calibrations",
        recordId: calibrations.find((one) => one.state === "in force")?.id ?? null,
      },
    },
    { name: "report", at: { screen: "records", tab: "report", recordId: first.id } },
    {
      name: "trace",
      at: { screen: "trace", result: { rowId: rows.rows[0]?.id ?? "", dimension }, subject: null },
    },
    {
      name: "trace-by-hand",
      at: {
        screen: "trace",
        result: { rowId: rows.rows[0]?.id ?? "", dimension, byHand: true },
        subject: null,
      },
    },
    { name: "trace-forward", at: { screen: "trace", result: null, subject: null } },
    { name: "settings", at: { screen: "settings" } },
    // The widest table of the handbook.
    { name: "handbook-words", at: { screen: "about", part: "handbook", page: "words" } },
    ...ABOUT_PARTS.map((part): Place => ({ name: `about-${part}`, at: { screen: "about", part } })),
  ];
}

const named = (definition: CountMethodDefinition | undefined, name: string): CountMethodDefinition => {
  if (!definition) throw new Error("a ready count method");
  return { ...definition, name };
};

/** Draws a place as after a reload of the window. */
export async function arriveAt(page: Page, { at }: Place): Promise<void> {
  await page.evaluate((location) => {
    sessionStorage.setItem("linefall.location", JSON.stringify({ location, back: [] }));
  }, at);
  await page.reload();
  await page.locator("main h1").first().waitFor();
  await page.waitForLoadState("networkidle");
  await page.evaluate(() => document.fonts.ready);
}
