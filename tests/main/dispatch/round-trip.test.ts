import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type CallName, calls } from "#core/contract/calls.ts";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { handOf, openCount } from "../../support/count-scene.ts";
import { finishedExport, workbookOf } from "../../support/finished-export.ts";
import { EVERYTHING } from "../../support/kept-answers.ts";
import { importNotebook } from "../../support/notebook-import.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { attach, correctCertificate, PNG, untilDone } from "../../support/traceability-scenes.ts";
import { exportJson } from "../exchange/exported.ts";
import { uploadBytes } from "../exchange/upload.ts";

let bench: TempBench;
let scene: Scene;
const inputs = new Map<CallName, unknown>();

beforeAll(async () => {
  bench = await tempBench({ openDemo: async () => undefined, showInFolder: async () => undefined });
  scene = await buildScene(bench);
  const calibration = await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  await enter(bench, scene, "row-2", { dimension: "width", edge: "left" }, "3,5");
  const sheetId = scene.sheet.id;
  const entries: [CallName, unknown][] = [
    ["bench.status", {}],
    ["bench.changes", { since: { run: "before", count: 0 } }],
    ["bench.overview", {}],
    ["people.list", {}],
    ["ownReading.read", {}],
    ["ownSettings.read", {}],
    ["microscopes.list", {}],
    ["micrometers.list", {}],
    ["calibrations.list", { trainId: null }],
    ["calibrations.summaries", { state: null, from: 0, count: 10 }],
    ["calibrations.get", { calibrationId: calibration.id }],
    ["methods.list", {}],
    ["methods.get", { methodId: scene.methodId }],
    ["sheets.list", {}],
    ["sheets.search", { ...EVERYTHING, state: null }],
    ["rows.byLabel", { words: "", count: 10 }],
    ["sheets.get", { sheetId }],
    ["rows.page", { sheetId, from: 1, count: 10 }],
    ["rows.placed", { sheetId, words: "", count: 10 }],
    ["trail.page", { before: null, count: 50 }],
    ["trail.verify", {}],
    ["work.progress", { requestId: "no-such-work" }],
    ["work.stop", { requestId: "no-such-work" }],
    ["backups.make", { requestId: "press-0001" }],
    ["backups.list", {}],
    ["bench.checkFile", {}],
    ...(await measuringReads()),
    ...(await exchangeReads()),
    ...trendReads(),
    ...(await traceabilityReads()),
    ...(await countReads(calibration.id)),
  ];
  for (const [name, input] of entries) inputs.set(name, input);
});
afterAll(() => bench.end());

/** Reads over a whole sheet, of a staged block and of a second reading with a value in it. */
async function measuringReads(): Promise<[CallName, unknown][]> {
  const sheetId = scene.sheet.id;
  const blockId = "block-1";
  await bench.call("rows.stageBlock", { sheetId, blockId, part: 1, text: "a\t40\t60\nb\t1\tsmudged" });
  const reading = (edge: "left" | "right") => ({ kind: "reading", cell: { dimension: "length", edge } });
  const block = {
    sheetId,
    blockId,
    columns: [{ kind: "label" }, reading("left"), reading("right")],
    skipFirstLine: false,
    startAt: null,
    excluded: [],
    corrections: [],
  };
  const second = await bench.call("secondReadings.start", {
    requestId: bench.request(),
    sheetId,
    choice: { kind: "count", count: 1 },
    note: "",
  });
  return [
    ["sheets.columns", { sheetId, from: 1, count: 10 }],
    ["sheets.history", { sheetId }],
    ["sheets.eyesAtTrains", { personId: scene.personId }],
    ["rows.superseded", { rowId: "row-1" }],
    ["rows.journal", { sheetId }],
    ["rows.changedSince", { sheetId, since: 0 }],
    ["rows.previewBlock", block],
    ["secondReadings.list", { sheetId }],
    ["secondReadings.candidates", { sheetId, ordinals: [1, 99] }],
    ["secondReadings.get", { secondReadingId: second.id }],
  ];
}

/** Reads of exports under way, of the report, and of files taken in. */
async function exchangeReads(): Promise<[CallName, unknown][]> {
  const sheetId = scene.sheet.id;
  const choice = { sheetIds: [sheetId], format: "live workbook" as const, paper: "A4" as const };
  const job = await bench.call("exports.begin", choice);
  if (!job) throw new Error("The export did not begin.");
  const { exportId } = job;
  const written = await finishedExport(
    bench,
    await bench.call("exports.begin", { ...choice, format: "csv" }),
  );
  const csv = Buffer.from("label,left,right\na,23.0,51.5\n");
  const workbook = await workbookOf(bench, sheetId);
  if (!workbook) throw new Error("The workbook was not written.");
  const exported = await uploadBytes(bench, workbook.fileName, readFileSync(workbook.path));
  const { uploadId: begun } = await bench.call("uploads.begin", { fileName: "c.csv", bytes: csv.length });
  const notes = await uploadBytes(bench, "notes.csv", csv);
  const columns = [
    { column: 0, role: "label", dimension: null },
    { column: 1, role: "left", dimension: "length" },
    { column: 2, role: "right", dimension: "length" },
  ];
  const { methodId } = scene;
  const sheets = Buffer.from(await exportJson(bench, [sheetId]));
  return [
    ["documents.look", { uploadId: await uploadBytes(bench, "sheets.json", sheets) }],
    ["exports.begin", choice],
    ["exports.status", { exportId }],
    ["exports.showInFolder", { exportId: written.exportId }],
    ["exports.cancel", { exportId }],
    ["reports.print", { sheetId }],
    ["reports.sheet", { sheetId }],
    ["uploads.begin", { fileName: "e.csv", bytes: 10 }],
    ["uploads.part", { uploadId: begun, offset: 0, base64: csv.toString("base64") }],
    ["uploads.forget", { uploadId: begun }],
    ["exchange.check", { uploadId: exported }],
    ["imports.read", { uploadId: notes, worksheet: null, methodId }],
    ["imports.preview", { uploadId: notes, worksheet: null, headingLines: 1, columns, methodId }],
  ];
}

/** Reads of the history of a factor. */
function trendReads(): [CallName, unknown][] {
  const trainId = scene.trains[0]?.id;
  return [
    ["trends.train", { trainId }],
    ["trends.verdicts", {}],
    ["trends.sideBySide", { view: "microscope", id: scene.microscope.id }],
    ["trends.onDay", { day: "2026-11-25", trainId: null }],
    ["trends.workbook", { trainId }],
    ["trends.drawing", { trainId, view: { unit: "factor", withTolerance: true, days: null } }],
    ["trends.seriesPicture", { view: "microscope", id: scene.microscope.id }],
    ["trends.picture", { trainId, view: { unit: "percent", withTolerance: false, days: null } }],
  ];
}

/** Reads of states, attachments, events, checks, chains and signatures, each with something to tell. */
async function traceabilityReads(): Promise<[CallName, unknown][]> {
  const subject = { kind: "certificate" as const, id: scene.certificate.id };
  const attachment = await attach(bench, subject, PNG);
  const { uploadId } = await bench.call("attachments.begin", {
    attachment: { subject, fileName: "a.png", bytes: PNG.length, caption: "" },
  });
  const { fileName } = await bench.call("backups.make", { requestId: "press-0000" });
  const scope = { subject, from: null, to: null, replacement: null };
  const corrected = await correctCertificate(bench, scene);
  const replacement = { kind: "certificate" as const, certificateId: corrected.id };
  const reevaluation = await bench.call("reevaluations.begin", {
    requestId: bench.request(),
    reevaluation: { ...scope, sheetIds: null, replacement, reason: "corrected" },
  });
  await untilDone(bench, reevaluation.id);
  const notebook = await importNotebook(bench, scene);
  const page = await bench.call("rows.page", { sheetId: notebook.id, from: 1, count: 10 });
  const converted = page.rows.find(({ elsewhere }) => elsewhere);
  const sheetId = scene.sheet.id;
  return [
    ["registers.serviceStates", {}],
    ["registers.history", { kind: "microscope", id: scene.microscope.id }],
    ["certificates.replacements", {}],
    ["attachments.list", { subject: null }],
    ["attachments.ofSheet", { sheetId: scene.sheet.id }],
    ["attachments.begin", { attachment: { subject, fileName: "b.png", bytes: 10, caption: "" } }],
    ["attachments.part", { uploadId, index: 0, base64: PNG.toString("base64") }],
    ["attachments.read", { attachmentId: attachment.id, from: 0 }],
    ["attachments.export", { attachmentId: attachment.id }],
    ["events.list", { microscopeId: null }],
    ["checks.list", { trainId: null }],
    ["due.list", { withinDays: 900 }],
    ["laboratory.settings", {}],
    ["sheets.signOffs", { sheetId }],
    ["sheets.states", {}],
    ["people.pins", {}],
    ["people.standings", {}],
    ["overdueUses.of", { work: "sheet", workId: sheetId }],
    ["trail.head", {}],
    ["trail.signing", {}],
    ["trail.followedTo", {}],
    ["trail.saveHeads", {}],
    ["trail.compareHeads", { noted: `1:${"0".repeat(64)}` }],
    ["calibrations.approvals", { trainId: null }],
    ["calibrations.repeatability", { personId: scene.personId }],
    ["calibrations.scatters", { personId: scene.personId }],
    ["trace.backward", { rowId: "row-1", dimension: "length" }],
    ["trace.elsewhere", { rowId: converted?.id ?? "", dimension: "width" }],
    ["trace.forward", scope],
    ["trace.forwardRows", { ...scope, sheetId, after: 0, count: 10 }],
    ["trace.letter", scope],
    ["reevaluations.list", {}],
    ["reevaluations.status", { reevaluationId: reevaluation.id }],
    ["backups.check", { fileName }],
    ["backups.handOver", {}],
    ["bench.openDemo", {}],
    ["bench.opening", {}],
    ["bench.faults", { count: 10 }],
  ];
}

/** Reads of a count with presses, an undo and a finished field, and of its recount. */
async function countReads(calibrationId: string): Promise<[CallName, unknown][]> {
  const count = await openCount(bench, scene);
  const hand = handOf(bench, count.id);
  await hand.press("diatoms", "3");
  await hand.press("greens");
  await hand.undo();
  await hand.field({ x: "10.5", y: "3" });
  const countId = count.id;
  await bench.call("counts.close", { requestId: bench.request(), countId, lastFieldCounted: false });
  const recount = await bench.call("recounts.planFields", {
    requestId: bench.request(),
    countId,
    share: "1",
  });
  const subject = { kind: "calibration" as const, id: calibrationId };
  await bench.call("practice.makeClass", {
    requestId: bench.request(),
    name: "Course of March",
    seed: null,
    slide: "",
    intervals: 1,
    repeats: 1,
    names: ["Una Pupil"],
  });
  const attempt = await bench.call("practice.begin", {
    requestId: bench.request(),
    exercise: "tenths",
    seed: null,
  });
  const [method] = await bench.call("countMethods.list", {});
  const controls = { familyId: method?.familyId ?? "", kind: "recovery" };
  return [
    ["countMethods.list", {}],
    ["categoryLists.list", {}],
    ["countMethods.get", { countMethodId: count.countMethodId }],
    ["counts.list", {}],
    ["counts.search", { ...EVERYTHING, state: null }],
    ["counts.get", { countId }],
    ["attachments.ofCount", { countId }],
    ["counts.movedCellVolumes", { countId }],
    ["counts.sameSample", { countId }],
    ["counts.controls", controls],
    ["counts.controlsWorkbook", { ...controls, paper: "A4" }],
    ["counts.state", { countId }],
    ["counts.events", { countId, from: 1, count: 10 }],
    ["counts.results", { countId }],
    ["counts.touchedBy", { subject, from: null, to: null, replacement: null }],
    ["counts.export", { countId, format: "json", paper: "A4" }],
    ["recounts.list", { countId: null }],
    ["recounts.get", { recountId: recount.id }],
    ["practice.list", { personId: null }],
    ["practice.get", { attemptId: attempt.id }],
    ["practice.criteria", {}],
    ["practice.competence", {}],
    ["practice.classes", {}],
    ["practice.classWorkbook", { classId: (await bench.call("practice.classes", {}))[0]?.id ?? "" }],
    ["practice.slideReadings", { classId: (await bench.call("practice.classes", {}))[0]?.id ?? "" }],
    ["practice.certificates", {}],
    ["practice.missing", { work: "count", id: countId }],
    ["practice.unproven", { work: "count", id: countId }],
  ];
}

const reads = (Object.keys(calls) as CallName[]).filter((name) => calls[name].kind === "read");

it.each(reads)("%s answers the same through JSON and through a structured clone", async (name) => {
  const reply = await bench.program.dispatch(name, inputs.get(name));
  expect(reply).toMatchObject({ ok: true });
  expect(JSON.parse(JSON.stringify(reply))).toEqual(reply);
  expect(structuredClone(reply)).toEqual(reply);
});
