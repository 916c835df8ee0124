import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { startElectronHost } from "#main/electron/start.ts";
import { buildScene, calibrateTrain } from "../../support/bench-scenes.ts";
import { answers, electron, recorded, startAfresh } from "../../support/electron-stand-in.ts";
import { plainPng } from "../../support/plain-png.ts";
import { COPY_WORK_ENTRY, SERVICE_ENTRY } from "../../support/service-child.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

vi.mock("electron", async () => (await import("../../support/electron-stand-in.ts")).electron);

/** The host starts and ends a process of its own each time. */
const PATIENCE = 60_000;

let bench: TempBench;
let folder: string;
let trainId: string;
beforeEach(async () => {
  startAfresh();
  vi.spyOn(console, "log").mockImplementation(() => {});
  folder = mkdtempSync(join(tmpdir(), "linefall-host-"));
  mkdirSync(join(folder, "built"));
  writeFileSync(join(folder, "built", "index.html"), "<title>bench</title>");
  bench = await tempBench();
  const scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  trainId = scene.trains[0]?.id ?? "";
  await bench.program.close();
  await startElectronHost(["--data", bench.paths.dataFolder, "--profile", join(folder, "profile")], {
    window: join(folder, "built"),
    service: SERVICE_ENTRY,
    copyWork: COPY_WORK_ENTRY,
  });
});
afterEach(async () => {
  const quits = recorded.quits;
  electron.app.emit("will-quit", { preventDefault: vi.fn() });
  await vi.waitFor(() => expect(recorded.quits).toBeGreaterThan(quits), PATIENCE);
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true, force: true });
  rmSync(bench.paths.dataFolder, { recursive: true, force: true });
}, PATIENCE);

/** A call as the window makes it. */
async function call(name: string, input: unknown) {
  const contents = recorded.windows[0]?.webContents;
  const event = { sender: contents, senderFrame: contents?.mainFrame };
  const text = await recorded.handlers.get(`linefall:${name}`)?.(
    event as never,
    JSON.stringify(input) as never,
  );
  return JSON.parse(text as string) as unknown;
}
/** Waits until what was begun is written. */
async function written(begun: unknown): Promise<unknown> {
  let now = begun as { value: { exportId: string; state: string; file: unknown } };
  while (now.value.state === "writing") {
    await new Promise((resolve) => setTimeout(resolve, 5));
    now = (await call("exports.status", { exportId: now.value.exportId })) as typeof now;
  }
  return now.value.file;
}
const view = { unit: "factor", withTolerance: false, days: null };

it("asks where the picture of a chart goes, offers SVG, and writes it there", async () => {
  const filePath = join(folder, "mine.svg");
  answers.savePath = { canceled: false, filePath };
  expect(await written(await call("trends.picture", { trainId, view }))).toMatchObject({
    fileName: "mine.svg",
    path: filePath,
    download: null,
  });
  expect(recorded.openDialogs.at(-1)).toMatchObject({
    title: "Save the picture",
    defaultPath: "Trend 10x 0.25 on Stand A.svg",
    filters: [{ name: "Picture", extensions: ["svg"] }],
  });
  expect(readFileSync(filePath, "utf8")).toMatch(
    /^<\?xml version="1\.0" encoding="UTF-8"\?>\n<svg [\s\S]*<\/svg>\n$/,
  );
});

it("writes the workbook with its picture where it is told to", async () => {
  const filePath = join(folder, "mine.xlsx");
  answers.savePath = { canceled: false, filePath };
  const png = plainPng(24, 12);
  await written(await call("trends.workbook", { trainId, png: png.toString("base64") }));
  expect(recorded.openDialogs.at(-1)).toMatchObject({ filters: [{ extensions: ["xlsx"] }] });
  // A PNG is packed already and stands in the zip as it is, or is found by its name.
  expect(readFileSync(filePath).includes(Buffer.from("xl/media/image0.png"))).toBe(true);
});

it("writes nothing when the dialog is closed", async () => {
  expect(await call("trends.picture", { trainId, view })).toEqual({ ok: true, value: null });
  expect(recorded.openDialogs).toHaveLength(1);
  expect(existsSync(join(folder, "mine.svg"))).toBe(false);
});
