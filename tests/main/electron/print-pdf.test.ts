import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { BrowserWindow } from "electron";
import { afterEach, describe, expect, it, vi } from "vitest";
import { printToPdf } from "#main/electron/print-pdf.ts";
import type { ProgramOptions } from "#main/program.ts";
import { buildScene, type Scene } from "../../support/bench-scenes.ts";
import { finishedExport } from "../../support/finished-export.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

const PDF = Buffer.from("%PDF-1.7 a page");
let bench: TempBench;
let scene: Scene;

async function open(changes: Partial<ProgramOptions>): Promise<void> {
  bench = await tempBench(changes);
  scene = await buildScene(bench);
}
afterEach(() => bench.end());

describe("the report as a PDF", () => {
  it("is made by Electron from the page shown, with the paper and margins of its style sheet", async () => {
    const printToPDF = vi.fn(async () => PDF);
    const window = { webContents: { printToPDF } } as unknown as BrowserWindow;
    await open({ printToPdf: () => printToPdf(window) });
    const { by, begun } = await bench.call("reports.print", { sheetId: scene.sheet.id });
    const { file } = await finishedExport(bench, begun);
    expect(by).toBe("host");
    expect(printToPDF).toHaveBeenCalledWith({ preferCSSPageSize: true, printBackground: true });
    expect(file?.fileName).toBe(`${scene.sheet.number}.pdf`);
    expect(readFileSync(file?.path ?? "")).toEqual(PDF);
    const report = await bench.call("reports.sheet", { sheetId: scene.sheet.id });
    expect(file?.dataSha256).toBe(report.dataSha256);
  });

  it("is left to the window in the loopback host", async () => {
    await open({});
    const reply = await bench.call("reports.print", { sheetId: scene.sheet.id });
    expect(reply).toEqual({ by: "window", begun: null });
  });

  it("writes nothing when the person cancels, and nothing that is no PDF", async () => {
    let place: string | null = null;
    await open({ printToPdf: async () => Buffer.from("oops"), chooseExportPath: async () => place });
    const sheetId = scene.sheet.id;
    expect(await bench.call("reports.print", { sheetId })).toEqual({ by: "host", begun: null });
    place = join(bench.paths.exportFolder, "report.pdf");
    const { begun } = await bench.call("reports.print", { sheetId });
    expect(await finishedExport(bench, begun)).toMatchObject({
      state: "failed",
      trouble: { message: expect.stringContaining("fault") },
    });
    expect(existsSync(place)).toBe(false);
    await expect(printToPdf(null)).rejects.toThrow("no window");
  });
});
