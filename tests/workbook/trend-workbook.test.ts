import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { LARGEST_CHART_PNG, type TrendViewChoice } from "#core/contract/records/trend.ts";
import { buildScene, calibrateTrain, type Scene } from "../support/bench-scenes.ts";
import { finishedExport } from "../support/finished-export.ts";
import { plainPng } from "../support/plain-png.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { picturesOf, type ReadSheet, readBook, recalculated } from "./other-programs.ts";

const WHOLE: TrendViewChoice = { unit: "factor", withTolerance: false, days: null };

let bench: TempBench;
let scene: Scene;
beforeEach(async () => {
  bench = await tempBench({ downloadAddress: (fileName) => `/export/${fileName}` });
  scene = await buildScene(bench);
  for (const [day, right] of [
    ["2026-01-10", "96.4"],
    ["2026-02-10", "96.3"],
    ["2026-03-10", "96.5"],
  ] as const) {
    bench.clock.set(`${day}T09:00:00.000Z`);
    await calibrateTrain(bench, scene, { right, position: 1, dueOn: "2030-01-01" });
  }
});
afterEach(() => bench.end());

const trainId = (): string => scene.trains[0]?.id ?? "";
const history = () => bench.call("trends.train", { trainId: trainId() });
const cell = (sheet: ReadSheet | undefined, address: string) => sheet?.cells[address]?.value;

describe("the workbook of a history", () => {
  it("holds every point and limit, as another program reads it, and no picture where the window gave none", async () => {
    const { file } = await finishedExport(bench, await bench.call("trends.workbook", { trainId: trainId() }));
    expect(file?.fileName).toBe("Trend 10x 0.25 on Stand A.xlsx");
    const book = readBook(file?.path ?? "");
    const { points, baselines } = await history();
    expect(book.order).toEqual(["History", "Limits", "Events and checks", "Standing"]);
    points.forEach(({ date, factor, expandedUncertainty }, at) => {
      expect(cell(book.sheets.History, `A${at + 2}`)).toEqual({ date: expect.stringContaining(date) });
      expect(cell(book.sheets.History, `B${at + 2}`)).toBeCloseTo(Number(factor), 12);
      expect(cell(book.sheets.History, `C${at + 2}`)).toBeCloseTo(Number(expandedUncertainty), 12);
    });
    expect(cell(book.sheets.History, "A5")).toBeUndefined();
    expect(cell(book.sheets.Limits, "E2")).toBeCloseTo(Number(baselines[0]?.centre), 11);
    expect(picturesOf(file?.path ?? "")).toEqual([]);
  });

  it("has the picture on a sheet of its own, in proportion and described, and keeps it through LibreOffice", async () => {
    const png = plainPng(240, 120);
    const { file } = await finishedExport(
      bench,
      await bench.call("trends.workbook", { trainId: trainId(), png: png.toString("base64") }),
    );
    const path = file?.path ?? "";
    const book = readBook(path);
    expect(book.order).toEqual(["Chart", "History", "Limits", "Events and checks", "Standing"]);
    expect(cell(book.sheets.Chart, "A1")).toBe("Factor of 10×/0.25 on Stand A over time");
    const words = String(cell(book.sheets.Chart, "A2"));
    expect(words).toMatch(/^3 calibrations from 2026-01-10 to 2026-03-10, with 0 events\. /);
    const [picture, ...more] = picturesOf(path);
    expect(more).toEqual([]);
    expect(picture).toMatchObject({ sheet: "Chart", format: "png", width: 240, height: 120, row: 4 });
    expect(picture?.shown?.[0]).toBe(900);
    expect(picture?.shown?.[1]).toBe(450);
    expect(picture?.alternative).toBe(`Factor of 10×/0.25 on Stand A over time. ${words}`);
    // As high as the page allows, where it is higher than wide.
    const high = plainPng(120, 240).toString("base64");
    const { file: second } = await finishedExport(
      bench,
      await bench.call("trends.workbook", { trainId: trainId(), png: high }),
    );
    expect(picturesOf(second?.path ?? "")[0]?.shown).toEqual([260, 520]);
    const [kept] = picturesOf(recalculated(path));
    expect(kept).toMatchObject({ sheet: "Chart", format: "png", width: 240, height: 120, row: 4 });
    expect(kept?.alternative).toBe(picture?.alternative);
  });

  it.each([
    ["no base64", "???", "input.invalid"],
    [
      "no PNG",
      Buffer.from("GIF89a, and then some more that is no picture").toString("base64"),
      "input.invalid",
    ],
    ["a PNG cut off", plainPng(240, 120).subarray(0, -4).toString("base64"), "input.invalid"],
    ["a PNG of no width", plainPng(0, 120).toString("base64"), "input.invalid"],
    ["too much", "A".repeat(LARGEST_CHART_PNG + 1), "input.invalid"],
  ])("with %s for a picture is refused at its field, and nothing is written", async (_what, png, code) => {
    expect(await bench.refusal("trends.workbook", { trainId: trainId(), png })).toMatchObject({
      code,
      field: "png",
    });
    expect(existsSync(bench.paths.exportFolder) ? readdirSync(bench.paths.exportFolder) : []).toEqual([]);
  });
});

describe("the chart as a file", () => {
  it("is an SVG of what was asked for, and the window is given the same text to draw", async () => {
    const view: TrendViewChoice = {
      unit: "percent",
      withTolerance: true,
      days: { from: "2026-01-20", to: "2026-03-20" },
    };
    const { file } = await finishedExport(
      bench,
      await bench.call("trends.picture", { trainId: trainId(), view }),
    );
    expect(file?.fileName).toBe("Trend 10x 0.25 on Stand A.svg");
    expect(file?.download).toBe("/export/Trend 10x 0.25 on Stand A.svg");
    const content = readFileSync(file?.path ?? "");
    expect(file?.bytes).toBe(content.length);
    expect(file?.dataSha256).toBe(createHash("sha256").update(content).digest("hex"));
    const svg = content.toString("utf8");
    expect(svg).toContain('<title id="title">Factor of 10×/0.25 on Stand A over time</title>');
    expect(svg).toContain(
      "2 of 3 calibrations, 2026-01-20 to 2026-03-20. Drawn on 2026-03-10 by Linefall 0.0.0-test.",
    );
    const drawing = await bench.call("trends.drawing", { trainId: trainId(), view });
    expect(drawing.svg).toBe(svg);
    expect(svg).toContain(`viewBox="0 0 ${drawing.width} ${drawing.height}"`);
  });

  it("has numbers and dates as the person reads them, and names as they were given", async () => {
    await bench.call("events.record", {
      requestId: bench.request(),
      event: {
        kind: "knocked",
        subject: { kind: "microscope", id: scene.microscope.id },
        happenedOn: "2026-02-10",
        words: "moved by 0.5 m",
      },
    });
    const notation = { decimalSign: "comma", dateForm: "31.01.2026" } as const;
    const draw = async (view: TrendViewChoice) =>
      (await bench.call("trends.drawing", { trainId: trainId(), view })).svg;
    const own = await draw({ ...WHOLE, notation });
    const usual = await draw(WHOLE);
    expect(usual).toContain("Drawn on 2026-03-10");
    expect(own).toContain("Drawn on 10.03.2026");
    expect(own).not.toMatch(/\d{4}-\d\d-\d\d/);
    expect(usual).toMatch(/>\d+\.\d+ ?</);
    expect(own).toContain("10×/0,25 on Stand A over time");
    expect(own, "the words of a person").toContain("moved by 0.5 m");
    // The marks themselves stand where they stood.
    const marks = (svg: string): string => svg.replaceAll(/>[^<]*</g, "><");
    expect(marks(own)).toBe(marks(usual));
  });

  it("of a train without a calibration is an empty chart that says so", async () => {
    const empty = scene.trains[1]?.id ?? "";
    const { svg } = await bench.call("trends.drawing", { trainId: empty, view: WHOLE });
    expect(svg).toContain("No calibration yet.");
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("of days that run backwards, or of a train nobody knows, is refused", async () => {
    const days = { from: "2026-03-20", to: "2026-01-20" };
    const refused = await bench.refusal("trends.picture", { trainId: trainId(), view: { ...WHOLE, days } });
    expect(refused).toMatchObject({ code: "input.invalid", field: "view.days.to" });
    for (const name of ["trends.picture", "trends.drawing", "trends.workbook"]) {
      const view = name === "trends.workbook" ? {} : { view: WHOLE };
      expect((await bench.refusal(name, { trainId: "nobody", ...view })).code).toBe("train.unknown");
    }
  });
});
