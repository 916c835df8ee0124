import { existsSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { plainPng } from "../../support/plain-png.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;
const subject = (id = "row-1") => ({ kind: "specimen row" as const, id });
const files = () => {
  const folder = join(bench.paths.dataFolder, "attachments");
  return existsSync(folder) ? readdirSync(folder) : [];
};
const ofSheet = () => bench.call("attachments.ofSheet", { sheetId: scene.sheet.id });
const report = () => bench.call("reports.sheet", { sheetId: scene.sheet.id });

/** What the host says to a file for a row. */
async function refusedFor(content: Buffer, fileName: string, id = "row-1") {
  const { uploadId } = await bench.call("attachments.begin", {
    attachment: { subject: subject(id), fileName, bytes: content.length, caption: "" },
  });
  await bench.call("attachments.part", { uploadId, index: 0, base64: content.toString("base64") });
  return bench.refusal("attachments.finish", { requestId: bench.request(), uploadId });
}

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "10", "30");
});
afterEach(() => bench.end());

it("a picture on a row is kept under its SHA-256, in the report, and withdrawn with a reason while its file stays", async () => {
  await bench.call("rows.describe", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    rowId: "row-1",
    label: "Tilia 1",
    note: "",
    stage: { x: "12.4", y: "101.5", square: "M23" },
  });
  const picture = await attach(bench, subject(), plainPng(4, 3), "grain.png");
  expect(files()).toEqual([picture.sha256]);
  expect(await ofSheet()).toEqual([picture]);
  expect((await report()).pictures).toEqual([
    { ordinal: 1, label: "Tilia 1", place: "stage x 12.4, y 101.5; square M23", attachment: picture },
  ]);
  const reason = "of another grain";
  await bench.call("attachments.withdraw", {
    requestId: bench.request(),
    attachmentId: picture.id,
    reason,
  });
  expect((await report()).pictures).toEqual([]);
  expect(await ofSheet()).toMatchObject([{ withdrawn: { reason } }]);
  expect(files()).toEqual([picture.sha256]);
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

describe("what is no picture for a row is not kept", () => {
  it.each([
    ["a document", Buffer.from("%PDF-1.7\n"), "scan.pdf"],
    ["a PNG without its header", PNG.subarray(0, 14), "cut.png"],
    ["a JPEG without a frame", Buffer.from([0xff, 0xd8, 0xff, 0xd9]), "cut.jpg"],
    ["a drawing in text", Buffer.from("<svg xmlns='http://www.w3.org/2000/svg'/>"), "drawing.png"],
  ])("%s", async (_, content, fileName) => {
    expect(await refusedFor(content, fileName)).toMatchObject({ code: "attachment.type" });
    expect(files()).toEqual([]);
  });

  it("one with more points than a window decodes", async () => {
    const huge = Buffer.from(plainPng(1, 1));
    huge.writeUInt32BE(40_001, 16);
    huge.writeUInt32BE(1000, 20);
    const error = await refusedFor(huge, "huge.png");
    expect(error).toMatchObject({ code: "attachment.too-many-points" });
    expect(error.message).toContain("40001 × 1000 points");
    huge.writeUInt32BE(40_000, 16);
    await attach(bench, subject(), huge, "large.png");
    expect(files()).toHaveLength(1);
  });

  it("one for a row that is not on its sheet", async () => {
    const begin = { attachment: { subject: subject("row-9"), fileName: "a.png", bytes: 9, caption: "" } };
    expect(await bench.refusal("attachments.begin", begin)).toMatchObject({ code: "subject.unknown" });
    await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id });
    await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id });
    const undone = { attachment: { ...begin.attachment, subject: subject() } };
    expect(await bench.refusal("attachments.begin", undone)).toMatchObject({ code: "subject.unknown" });
  });
});

it("pictures of a closed sheet stay as they were closed", async () => {
  const { id } = await attach(bench, subject(), PNG);
  await bench.call("sheets.close", { requestId: bench.request(), sheetId: scene.sheet.id, words: "" });
  const begin = { attachment: { subject: subject(), fileName: "a.png", bytes: PNG.length, caption: "" } };
  const refused = await bench.refusal("attachments.begin", begin);
  expect(refused).toMatchObject({ code: "sheet.closed", hint: expect.stringContaining("Reopen it") });
  const withdraw = { requestId: bench.request(), attachmentId: id, reason: "another grain" };
  expect((await bench.refusal("attachments.withdraw", withdraw)).code).toBe("sheet.closed");
  await bench.call("sheets.reopen", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    reason: "a picture of another grain",
  });
  await bench.call("attachments.withdraw", withdraw);
});

it("a lost file is named by verify and told where the picture is asked for", async () => {
  const { id, sha256 } = await attach(bench, subject(), PNG);
  rmSync(join(bench.paths.dataFolder, "attachments", sha256));
  expect(await bench.refusal("attachments.read", { attachmentId: id, from: 0 })).toMatchObject({
    code: "attachment.missing",
  });
  expect((await bench.call("trail.verify", {})).differences).toMatchObject([
    { stored: "missing attachment", expected: sha256 },
  ]);
});

it("what a signature stands for covers the square, and is as before where there is none", async () => {
  const sha256 = async () => (await report()).rowsSha256;
  const place = (square: string) =>
    bench.call("rows.describe", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      rowId: "row-1",
      label: "",
      note: "",
      stage: { x: "1", y: "2", ...(square === "" ? {} : { square }) },
    });
  await place("");
  const without = await sha256();
  await place("M23");
  expect(await sha256()).not.toBe(without);
  await place("");
  expect(await sha256()).toBe(without);
});
