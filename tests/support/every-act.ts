import type { CallInput } from "#core/contract/calls.ts";
import {
  calibrateTrain,
  enterLength,
  newCertificate,
  OBJECTIVES,
  type Scene,
  trainOfPosition,
} from "./bench-scenes.ts";
import { handOf, newCount, openCount } from "./count-scene.ts";
import { importNotebook } from "./notebook-import.ts";
import type { TempBench } from "./temp-bench.ts";
import { as, PIN, untilDone } from "./traceability-scenes.ts";

async function onEquipment({ call, request }: TempBench, { microscope, micrometer }: Scene): Promise<void> {
  const microscopeId = microscope.id;
  await call("microscopes.addObjective", {
    requestId: request(),
    microscopeId,
    objective: { ...OBJECTIVES[1], position: 3, magnification: "63" },
  });
  const stand = (await call("microscopes.list", {})).find(({ id }) => id === microscopeId);
  await call("microscopes.replaceObjective", {
    requestId: request(),
    microscopeId,
    objectiveId: stand?.objectives.find((one) => one.position === 3)?.id ?? "",
    on: "2026-03-02",
    reason: "front lens scratched",
    objective: { magnification: "63", numericalAperture: "", immersion: "dry", serial: "" },
  });
  await call("microscopes.addEyepiece", {
    requestId: request(),
    microscopeId,
    eyepiece: {
      name: "12.5×/18",
      magnification: "12.5",
      fieldNumber: "18",
      serial: "",
      reticle: { engraving: "10/100", scaleLengthMm: "10", divisions: "100" },
    },
  });
  await call("certificates.register", {
    requestId: request(),
    certificate: { ...newCertificate(micrometer.id), number: "C-2", calibratedOn: "2026-02-01" },
  });
}

async function onRows(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const sheet = await call("sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Honey 8",
      containers: "10",
      volume: "25",
      portion: "50",
      note: "",
      methodId: scene.methodId,
      microscopeId: scene.microscope.id,
      eyepieceId: scene.sheet.eyepieceId,
      intermediateMagnification: scene.sheet.intermediateMagnification,
      objectiveId: scene.sheet.objectiveId,
    },
  });
  const about = () => ({ requestId: request(), sheetId: sheet.id });
  await enterLength(bench, { ...scene, sheet }, "other-1", "30", "52.5");
  await call("rows.undo", about());
  await call("rows.redo", about());
  await call("sheets.chooseObjective", { ...about(), objectiveId: scene.microscope.objectives[1]?.id ?? "" });
  await call("rows.stageBlock", { sheetId: sheet.id, blockId: "block-2", part: 1, text: "a\t10\t42\n" });
  await call("rows.enterBlock", {
    requestId: request(),
    block: {
      sheetId: sheet.id,
      blockId: "block-2",
      columns: [
        { kind: "label" },
        { kind: "reading", cell: { dimension: "length", edge: "left" } },
        { kind: "reading", cell: { dimension: "length", edge: "right" } },
      ],
      skipFirstLine: false,
      startAt: null,
      excluded: [],
      corrections: [],
    },
  });
  // The factor of that objective was withdrawn: its row waits for the next one.
  const [micrometer] = await call("micrometers.list", {});
  const corrected = micrometer?.certificates.find(({ number }) => number === "C-1a");
  const certificate = corrected ?? scene.certificate;
  await calibrateTrain(bench, { ...scene, certificate }, { position: 2, right: "99.2", lineRight: "25" });
  await call("rows.convert", { ...about(), rows: { from: 2, to: 2 }, reason: "calibrated since" });
}

/** A row measured by a factor whose certificate is past its date, knowingly. */
async function onSomethingOverdue(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const certificates = (await call("micrometers.list", {})).flatMap((one) => one.certificates);
  const certificate = certificates.find(({ number }) => number === "C-0") ?? scene.certificate;
  await calibrateTrain(bench, { ...scene, certificate }, { position: 2, right: "96.6", lineRight: "25" });
  const { microscopeId, eyepieceId, intermediateMagnification } = scene.sheet;
  const sheet = await call("sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Old slide",
      note: "",
      methodId: scene.methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId: trainOfPosition(scene, 2).objectiveId,
    },
  });
  await enterLength(bench, { ...scene, sheet }, "overdue-1", "10", "40");
  await call("overdueUses.record", {
    requestId: request(),
    work: "sheet",
    workId: sheet.id,
    reason: "the customer knows",
  });
}

/** A sheet for each of two samples of one job. */
async function onSeveralSamples({ call, request }: TempBench, { methodId, sheet }: Scene): Promise<void> {
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const shared = { note: "", methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  await call("sheets.openMany", { requestId: request(), sheet: shared, samples: ["Lot 1", "Lot 2"] });
}

/** A count for each of two samples of one job, of which the second is begun. */
async function onSeveralCounts(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const { sample: _, ...shared } = await newCount(bench, scene);
  const opened = await call("counts.openMany", {
    requestId: request(),
    count: shared,
    samples: ["Mere 4", "Mere 5"],
  });
  await call("counts.resume", { requestId: request(), countId: opened[1]?.id ?? "" });
}

/** Two rows struck as one act. */
async function onStrikes({ call, request }: TempBench, scene: Scene): Promise<void> {
  const { methodId, sheet } = scene;
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const { id: sheetId } = await call("sheets.open", {
    requestId: request(),
    sheet: {
      sample: "Spoilt",
      note: "",
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    },
  });
  for (const rowId of ["spoilt-1", "spoilt-2"]) {
    const cell = { dimension: "length", edge: "left" } as const;
    await call("rows.enter", { requestId: request(), sheetId, rowId, cell, typed: "10", label: "grain" });
  }
  await call("rows.strikeMany", {
    requestId: request(),
    sheetId,
    rows: { from: 1, to: 2 },
    reason: "the slide had dried",
  });
}

async function onCounts(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const count = await openCount(bench, scene);
  const about = () => ({ requestId: request(), countId: count.id });
  await handOf(bench, count.id).press();
  await call("counts.pressMany", {
    countId: count.id,
    acts: [
      { kind: "press", requestId: request(), waitedMs: 5, category: "diatoms", weight: "1", rowId: null },
      { kind: "field", requestId: request(), waitedMs: 0, position: null },
    ],
  });
  await call("counts.placeField", { ...about(), field: 1, position: { x: "1", y: "2" } });
  await call("counts.pause", about());
  await call("counts.changeCategories", {
    ...about(),
    categories: count.categories.map((one) => ({ ...one, name: `${one.name} s.l.` })),
    reason: "as the customer names them",
  });
  await call("counts.resume", about());
  await call("counts.changeInputs", {
    ...about(),
    inputs: { ...count.inputs, settledVolume: "50" },
    reason: "50 mL were settled",
  });
  await call("counts.giveCellVolume", {
    ...about(),
    category: "diatoms",
    given: { carbon: "diatoms", of: { from: "typed", volume: "520", expanded: "", source: "a list" } },
    reason: "",
  });
  await call("counts.close", { ...about(), lastFieldCounted: true });
  await call("counts.setControl", { ...about(), control: { kind: "blank" }, reason: "" });
  await call("recounts.planSlides", { requestId: request(), countIds: [count.id], share: "1" });
  await call("counts.reopen", { ...about(), reason: "one field more" });
}

async function onPins(bench: TempBench, personId: string): Promise<void> {
  const { call, request } = bench;
  // The first PIN of the bench.
  const reviewer = (await call("people.pins", {})).find((one) => one.confirmed?.by === one.personId);
  await call("people.setPin", { requestId: request(), personId, pin: "a fresh secret", presentPin: null });
  await call("people.clearPin", {
    requestId: request(),
    personId,
    voucherId: reviewer?.personId ?? "",
    voucherPin: PIN,
    reason: "forgotten",
  });
}

async function onStandings({ call, request }: TempBench): Promise<void> {
  const [away] = (await call("people.standings", {})).filter(({ standing }) => standing === "set aside");
  await call("people.setStanding", {
    requestId: request(),
    personId: away?.personId ?? "",
    standing: "working here",
    reason: "back for the season",
  });
}

/** One that is stopped before its first slice, resumed, and done. */
async function onReevaluations(bench: TempBench, { micrometer }: Scene): Promise<void> {
  const { call, request } = bench;
  const [before] = (await call("micrometers.list", {}))
    .flatMap((one) => one.certificates)
    .filter((one) => one.number === "C-1a");
  const corrected = await call("certificates.replace", {
    requestId: request(),
    certificateId: before?.id ?? "",
    certificate: { ...newCertificate(micrometer.id), number: "C-1b" },
    reason: "the correction was a slip itself",
  });
  const { id } = await call("reevaluations.begin", {
    requestId: request(),
    reevaluation: {
      subject: { kind: "certificate", id: before?.id ?? "" },
      from: null,
      to: null,
      sheetIds: null,
      replacement: { kind: "certificate", certificateId: corrected.id },
      reason: "the certificate was corrected again",
    },
  });
  await call("reevaluations.stop", { reevaluationId: id });
  await call("reevaluations.resume", { reevaluationId: id });
  await untilDone(bench, id);
}

/** Does, on a full bench, what `fullBench` leaves out and that leaves the bench the same one. Invented. */
export async function theActsLeft(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  await onEquipment(bench, scene);
  await onRows(bench, scene);
  await importNotebook(bench, scene);
  await onStrikes(bench, scene);
  await onSeveralSamples(bench, scene);
  await onSeveralCounts(bench, scene);
  await onSomethingOverdue(bench, scene);
  await onCounts(bench, scene);
  await as(bench, scene.personId, () => onPins(bench, scene.personId));
  await onStandings(bench);
  await onReevaluations(bench, scene);
  const correct = (correction: CallInput<"records.correct">["correction"]) =>
    call("records.correct", { requestId: request(), correction });
  const reason = "a slip of the first day";
  await correct({ subject: { kind: "person", id: scene.personId }, field: "initials", value: "XY", reason });
  await correct({
    subject: { kind: "microscope", id: scene.microscope.id },
    field: "model",
    value: "M 2",
    reason,
  });
  await correct({
    subject: { kind: "stage micrometer", id: scene.micrometer.id },
    field: "name",
    value: "Slide put right",
    reason,
  });
  const sheets = await call("sheets.list", {});
  const open = (await call("sheets.states", {})).map(({ sheetId, state }) => [sheetId, state] as const);
  const states = new Map(open);
  const sheet = sheets.find(({ id }) => (states.get(id) ?? "open") === "open");
  await correct({
    subject: { kind: "sheet", id: sheet?.id ?? "" },
    field: "sample",
    value: "Put right",
    reason,
  });
  await correct({
    subject: { kind: "sheet", id: sheet?.id ?? "" },
    field: "volume",
    value: "26.5",
    reason,
  });
  const count = (await call("counts.list", {})).find(({ state }) => state !== "closed");
  if (count)
    await correct({ subject: { kind: "count", id: count.id }, field: "sample", value: "Put right", reason });
  await call("ownSettings.change", { personId: scene.personId, change: { decimalSign: "comma" } });
  await call("trail.changeSigning", { requestId: request(), on: true });
  await call("backups.make", { requestId: request() });
  await call("bench.checkFile", {});
}
