import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { exerciseNamed } from "#core/practice/exercises/all-exercises.ts";
import {
  buildScene,
  COVERED_IN_A_DRAWER,
  calibrateTrain,
  enter,
  enterLength,
  newCertificate,
  newMicroscope,
  type Scene,
  trainOfPosition,
} from "./bench-scenes.ts";
import { handOf, measuredCells, openCount } from "./count-scene.ts";
import { inventedTaxa, POLLEN_BY_LIST } from "./invented-taxa.ts";
import { importNotebook } from "./notebook-import.ts";
import { trueReadings } from "./practice-reader.ts";
import type { TempBench } from "./temp-bench.ts";
import { as, attach, correctCertificate, PIN, PNG, reevaluateWith } from "./traceability-scenes.ts";

const MINUTE = 60_000;

/** Lets time pass, so that no two acts bear the same instant. */
function later(bench: TempBench): void {
  bench.clock.set(new Date(Date.parse(bench.clock.now()) + MINUTE).toISOString());
}

async function rowsOfEveryKind(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const { id: sheetId } = scene.sheet;
  const on = () => ({ requestId: request(), sheetId });
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  later(bench);
  await enterLength(bench, scene, "row-2", "10.5", "61");
  later(bench);
  await enter(bench, scene, "row-2", { dimension: "length", edge: "right" }, "60.5");
  later(bench);
  await enter(bench, scene, "row-3", { dimension: "width", edge: "direct" }, "33.5");
  await enter(bench, scene, "row-3", { dimension: "width", edge: "direct", repeat: 2 }, "33.7");
  later(bench);
  await enterLength(bench, scene, "row-4", "5", "9");
  later(bench);
  await call("rows.describe", {
    ...on(),
    rowId: "row-4",
    label: "spore 4",
    note: "tilted",
    stage: { x: "12.5", y: "80.1", square: "M23" },
  });
  later(bench);
  await enterLength(bench, scene, "row-5", "20", "50");
  later(bench);
  await call("rows.strike", { ...on(), rowId: "row-5", reason: "two grains stuck together" });
  later(bench);
  await call("rows.changeObjective", {
    ...on(),
    rows: { ids: ["row-4"] },
    objectiveId: scene.microscope.objectives[1]?.id ?? "",
    reason: "it was the 40×",
  } as never);
  later(bench);
  await enterLength(bench, scene, "row-6", "20", "50");
  later(bench);
  await call("rows.undo", on());
  await call("rows.undo", on());
  later(bench);
  await call("rows.keepDraft", {
    sheetId,
    rowId: "row-7",
    cell: { dimension: "length", edge: "left" },
    typed: "4",
  });
  await call("rows.stageBlock", { sheetId, blockId: "block-1", part: 1, text: "a\t1\t2\n" });
}

async function aSecondReading(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const reading = await call("secondReadings.start", {
    requestId: request(),
    sheetId: scene.sheet.id,
    choice: { kind: "rows", rowIds: ["row-1", "row-2"] },
    note: "the first two again",
  });
  await call("secondReadings.keepDraft", {
    secondReadingId: reading.id,
    rowId: "row-1",
    cell: { dimension: "length", edge: "left" },
    typed: "3",
  });
  for (const rowId of ["row-1", "row-2"]) {
    for (const [edge, typed] of [
      ["left", "30"],
      ["right", "50.5"],
    ] as const) {
      later(bench);
      await call("secondReadings.enter", {
        requestId: request(),
        secondReadingId: reading.id,
        rowId,
        cell: { dimension: "length", edge },
        typed,
      });
    }
  }
  later(bench);
  await call("secondReadings.close", { requestId: request(), secondReadingId: reading.id });
}

async function aCountWithItsRecount(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const list = await call("categoryLists.define", {
    requestId: request(),
    familyId: null,
    definition: { name: "Invented taxa", categories: inventedTaxa(), note: "" },
    carryNames: null,
  });
  later(bench);
  await openCount(bench, scene, { definition: POLLEN_BY_LIST, inputs: {}, categoryListId: list.id });
  later(bench);
  await call("categoryLists.define", {
    requestId: request(),
    familyId: list.familyId,
    definition: {
      ...list.definition,
      categories: inventedTaxa().map((one) => (one.name === "Poaceae" ? { ...one, name: "Gramineae" } : one)),
    },
    carryNames: { reason: "The name has changed" },
  });
  later(bench);
  const count = await openCount(bench, scene, { definition: UTERMOHL_FIELDS });
  const hand = handOf(bench, count.id);
  for (const position of [{ x: "10.5", y: "80", square: "B4" }, null]) {
    later(bench);
    await hand.press();
    await hand.press();
    await hand.undo();
    later(bench);
    await hand.field(position);
  }
  const about = () => ({ requestId: request(), countId: count.id });
  later(bench);
  await attach(bench, { kind: "count field", id: count.id, field: 2 }, PNG, "field 2.png");
  await call("counts.placeField", { ...about(), field: 3, position: { x: "", y: "", square: "M23" } });
  await call("counts.linkSheet", { ...about(), sheetId: scene.sheet.id });
  later(bench);
  await call("counts.pause", about());
  later(bench);
  await call("counts.close", { ...about(), lastFieldCounted: false });
  later(bench);
  const cells = await measuredCells(bench, scene, [
    ["20", "41"],
    ["22", "45.5"],
  ]);
  const volumes = [
    ["diatoms", { from: "sheet", sheetId: cells.id, label: "diatoms", quantity: "volume" }],
    ["greens", { from: "typed", volume: "520", expanded: "60", source: "an invented list" }],
  ] as const;
  for (const [category, of] of volumes) {
    later(bench);
    await call("counts.giveCellVolume", {
      ...about(),
      category,
      given: { carbon: "protists", of },
      reason: "",
    });
  }
  later(bench);
  await call("counts.setControl", {
    ...about(),
    control: {
      ...{ kind: "recovery", of: "total", against: "objects", stated: "40", expanded: "2" },
      ...{ portion: "10", background: "0", source: "beads of lot 7" },
    },
    reason: "",
  });
  later(bench);
  const recount = await call("recounts.planFields", { ...about(), share: "1" });
  for (const field of recount.fields) {
    later(bench);
    await call("recounts.enter", {
      requestId: request(),
      recountId: recount.id,
      field,
      counts: { diatoms: "1" },
    });
  }
  later(bench);
  await call("recounts.finish", {
    requestId: request(),
    recountId: recount.id,
    intracounterDeviation: "0.1",
  });
}

/** One attempt to its end, another given up. */
async function practiceOfAReader(bench: TempBench): Promise<void> {
  const { call, request } = bench;
  const attempt = await call("practice.begin", { requestId: request(), exercise: "tenths", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("tenths").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: attempt.id,
      ordinal,
      typed: { reading: `${40 + ordinal}.${ordinal % 10}` },
    });
  }
  const setting = await call("practice.begin", { requestId: request(), exercise: "line-up", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("line-up").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: setting.id,
      ordinal,
      typed: { reticleFrom: `1.${ordinal}`, lineFrom: "0", reticleTo: "92.4", lineTo: "450", turned: "0.2" },
    });
  }
  const benches = await call("practice.begin", { requestId: request(), exercise: "find-fault", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("find-fault").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: benches.id,
      ordinal,
      typed: { fault: "changer", looks: "2" },
    });
  }
  const slides = await call("practice.begin", { requestId: request(), exercise: "choose", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("choose").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: slides.id,
      ordinal,
      typed: { slide: "2", reason: "span" },
    });
  }
  const sizes = await call("practice.begin", { requestId: request(), exercise: "measure", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("measure").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: sizes.id,
      ordinal,
      typed: { objective: "20", from: "30.4", to: "38.1", look: "20×" },
    });
  }
  const fields = await call("practice.begin", { requestId: request(), exercise: "count", seed: null });
  for (let ordinal = 1; ordinal <= exerciseNamed("count").tasks; ordinal += 1) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: fields.id,
      ordinal,
      typed: { presses: "1@-40 2@12 1@80" },
    });
  }
  const another = await call("practice.begin", { requestId: request(), exercise: "tenths", seed: null });
  later(bench);
  await call("practice.giveUp", { requestId: request(), attemptId: another.id });
  const reader = (await call("bench.status", {})).personInUse?.name ?? "";
  const made = await call("practice.makeClass", {
    requestId: request(),
    name: "Course of March",
    seed: 5113,
    slide: "ruled slide no. 2",
    intervals: 2,
    repeats: 2,
    names: [reader, "Una Pupil"],
  });
  later(bench);
  await call("practice.readSlide", {
    requestId: request(),
    classId: made.id,
    interval: 1,
    repeat: 1,
    left: "10.0",
    right: "50.3",
  });
  await call("practice.setCriteria", {
    requestId: request(),
    mostBias: "0.06",
    mostScatter: "0.12",
    mostFactorError: "0.6",
    leastSpan: "50",
    leastRight: "70",
    mostSizeError: "3",
    mostSizeScatter: "5",
    mostSlips: "6",
    mostCountError: "7",
    months: 6,
    reason: "finer reticles here",
  });
}

async function whatHappenedToTheEquipment(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const [objective] = scene.microscope.objectives;
  const onTurret = { numericalAperture: "0.5", immersion: "dry" as const, serial: "7-1" };
  const more = await call("microscopes.addObjective", {
    requestId: request(),
    microscopeId: scene.microscope.id,
    objective: { ...onTurret, position: 6, magnification: "20" },
  });
  await call("microscopes.replaceObjective", {
    requestId: request(),
    microscopeId: scene.microscope.id,
    objectiveId: more.objectives.find((one) => one.position === 6)?.id ?? "",
    on: "2026-03-02",
    reason: "front lens scratched",
    objective: { ...onTurret, magnification: "20", serial: "7-2" },
  });
  await call("events.record", {
    requestId: request(),
    event: {
      kind: "knocked",
      subject: { kind: "objective", id: objective?.id ?? "" },
      happenedOn: "2026-03-02",
      words: "knocked by a chair",
    },
  });
  for (const event of [
    { kind: "lent", words: "to the teaching laboratory" },
    { kind: "brought back", words: "sealed, nothing touched", unchanged: true },
  ] as const) {
    later(bench);
    await call("events.record", {
      requestId: request(),
      event: {
        ...event,
        subject: { kind: "eyepiece", id: scene.microscope.eyepieces[0]?.id ?? "" },
        happenedOn: "2026-03-02",
      },
    });
  }
  later(bench);
  for (const state of ["out of service", "in service"] as const) {
    await call("registers.setServiceState", {
      requestId: request(),
      item: { kind: "stage micrometer", id: scene.micrometer.id },
      state,
      from: "2026-03-01",
      reason: `${state} for cleaning`,
    });
    later(bench);
  }
  await call("checks.record", {
    requestId: request(),
    check: {
      trainId: scene.trains[0]?.id ?? "",
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
      settings: [{ reticleLeft: "0", reticleRight: "96.5", lineLeft: "0", lineRight: "100" }],
      temperature: "21",
      remark: "after the knock",
    },
  });
  later(bench);
  const mistaken = await call("checks.record", {
    requestId: request(),
    check: {
      trainId: scene.trains[0]?.id ?? "",
      stageMicrometerId: scene.micrometer.id,
      certificateId: scene.certificate.id,
      settings: [{ reticleLeft: "0", reticleRight: "89", lineLeft: "0", lineRight: "100" }],
      temperature: "",
      remark: "",
    },
  });
  later(bench);
  await call("checks.withdraw", {
    requestId: request(),
    checkId: mistaken.id,
    reason: "ten divisions misread",
  });
  later(bench);
  const wrong = await attach(bench, { kind: "certificate", id: scene.certificate.id }, PNG, "wrong.png");
  later(bench);
  await attach(bench, { kind: "objective", id: objective?.id ?? "" }, PNG, "objective.png");
  later(bench);
  await call("attachments.withdraw", {
    requestId: request(),
    attachmentId: wrong.id,
    reason: "of another slide",
  });
  later(bench);
  await attach(bench, { kind: "specimen row", id: "row-4" }, PNG, "row 4.png");
  await call("trends.setTolerance", {
    requestId: request(),
    tolerance: { percent: "1.5", reason: "procedure 7" },
  });
}

async function settingsOfTheLaboratory(bench: TempBench): Promise<void> {
  const settings = await bench.call("laboratory.settings", {});
  await bench.call("laboratory.change", {
    requestId: bench.request(),
    settings: {
      ...settings,
      name: "Invented laboratory",
      confirmCalibrations: true,
      checkIntervalDays: 28,
      checkIntervalReason: "monthly",
      practiceForSheets: ["tenths"],
      practiceForCounts: ["tenths"],
    },
    reason: "procedure 3",
  });
}

async function signAgain(bench: TempBench, scene: Scene, reviewerId: string): Promise<void> {
  const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
  later(bench);
  await as(bench, reviewerId, () =>
    bench.call("sheets.review", { ...about(), words: "rows 1 to 3 recomputed" }),
  );
  later(bench);
  await bench.call("sheets.sign", {
    ...about(),
    personId: reviewerId,
    pin: PIN,
    words: "for the customer",
  });
}

/** An attempt that meets the criteria, signed by an examiner, who takes it back. */
async function aCertificateOfPractice(bench: TempBench, examinerId: string, pin: string): Promise<void> {
  const { call, request } = bench;
  const seed = 5113;
  const { id } = await call("practice.begin", { requestId: request(), exercise: "tenths", seed });
  for (const [index, truth] of trueReadings(seed).entries()) {
    later(bench);
    await call("practice.answer", {
      requestId: request(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: truth.toFixed(1) },
    });
  }
  later(bench);
  await call("practice.sign", {
    requestId: request(),
    attemptId: id,
    examinerId,
    pin,
    words: "watched at the bench",
  });
  later(bench);
  await call("practice.withdraw", {
    requestId: request(),
    attemptId: id,
    examinerId,
    pin,
    reason: "the free view stood open beside it",
  });
}

/** Closed and signed with a PIN that was reset, which its owner confirms only afterwards; then opened again. */
async function signedWithAResetPin(bench: TempBench, scene: Scene, reviewerId: string): Promise<void> {
  const { call, request } = bench;
  const { id } = await call("people.register", {
    requestId: request(),
    person: { name: "Ola Getful", initials: "OG", interpupillaryMm: "" },
  });
  const setPin = (pin: string) =>
    as(bench, id, () => call("people.setPin", { requestId: request(), personId: id, pin, presentPin: null }));
  const vouched = () => ({ requestId: request(), personId: id, voucherId: reviewerId, voucherPin: PIN });
  await setPin("5 brown bears");
  later(bench);
  await call("people.confirm", vouched());
  later(bench);
  await call("people.clearPin", { ...vouched(), reason: "forgotten over the holidays" });
  await setPin("6 brown bears");
  const about = () => ({ requestId: request(), sheetId: scene.sheet.id });
  later(bench);
  await call("sheets.close", { ...about(), words: "" });
  await as(bench, reviewerId, () => call("sheets.review", { ...about(), words: "", pin: null }));
  later(bench);
  await call("sheets.sign", { ...about(), personId: id, pin: "6 brown bears", words: "" });
  later(bench);
  await call("sheets.reopen", { ...about(), reason: "one more grain after all" });
  await aCertificateOfPractice(bench, id, "6 brown bears");
  later(bench);
  await call("people.confirmReset", {
    requestId: request(),
    personId: id,
    pin: "6 brown bears",
    proof: { kind: "former PIN", formerPin: "5 brown bears" },
  });
}

/** Set aside for a season, then back, then gone for good. */
async function somebodyLeft(bench: TempBench): Promise<void> {
  const { call, request } = bench;
  const { id: personId } = await call("people.register", {
    requestId: request(),
    person: { name: "Sea Sonal", initials: "SS", interpupillaryMm: "" },
  });
  for (const standing of ["set aside", "working here", "set aside"] as const) {
    later(bench);
    await call("people.setStanding", {
      requestId: request(),
      personId,
      standing,
      reason: `${standing} from this season on`,
    });
  }
}

/** Closed and signed, amended, and signed again; reopened once before that. */
async function signOffsThatStandAndFell(bench: TempBench, scene: Scene, reviewerId: string): Promise<void> {
  const { call, request } = bench;
  const about = () => ({ requestId: request(), sheetId: scene.sheet.id });
  later(bench);
  await call("sheets.close", { ...about(), words: "too early" });
  later(bench);
  await call("sheets.reopen", { ...about(), reason: "one more grain" });
  later(bench);
  await call("sheets.close", { ...about(), words: "read through" });
  await signAgain(bench, scene, reviewerId);
  later(bench);
  await call("rows.enter", {
    ...about(),
    rowId: "row-1",
    cell: { dimension: "length", edge: "right" },
    typed: "60.2",
    label: "grain",
    reason: "read again",
  });
  await signAgain(bench, scene, reviewerId);
}

async function reevaluation(bench: TempBench, scene: Scene): Promise<void> {
  const corrected = await correctCertificate(bench, scene);
  later(bench);
  await reevaluateWith(bench, scene, corrected);
}

/** A calibration is made with a certificate that is past its date, knowingly. */
async function somethingOverdue(bench: TempBench, scene: Scene): Promise<void> {
  const { call, request } = bench;
  const certificate = await call("certificates.register", {
    requestId: request(),
    certificate: {
      ...newCertificate(scene.micrometer.id),
      number: "C-0",
      calibratedOn: "2020-01-01",
      dueOn: "2025-01-01",
    },
  });
  const { id } = await call("calibrations.begin", {
    requestId: request(),
    calibration: {
      trainId: trainOfPosition(scene, 2).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: certificate.id,
    },
  });
  later(bench);
  await call("overdueUses.record", {
    requestId: request(),
    work: "calibration",
    workId: id,
    reason: "for a trial only",
  });
  later(bench);
  await calibrateTrain(bench, { ...scene, certificate }, { position: 2, right: "96.7", lineRight: "25" });
}

/** A bench on which everything has been done at least once, so that every table of it holds something. Invented. */
export async function fullBench(bench: TempBench): Promise<Scene> {
  const { call, request } = bench;
  const scene = await buildScene(bench, COVERED_IN_A_DRAWER);
  await call("microscopes.register", { requestId: request(), microscope: newMicroscope("Stand B") });
  const plain = newCertificate(scene.micrometer.id);
  const lines = plain.lines.map((line) => ({ ...line, expandedUncertainty: "0.25" }));
  for (const certificate of [
    { ...plain, number: "C-L", uncertaintyPerMm: "0.05", degreesOfFreedom: "18" },
    { ...plain, number: "C-P", lines, expandedUncertainty: "" },
  ]) {
    await call("certificates.register", { requestId: request(), certificate });
  }
  const reviewer = await call("people.register", {
    requestId: request(),
    person: { name: "Rey Viewer", initials: "RV", interpupillaryMm: "62" },
  });
  await as(bench, reviewer.id, () =>
    call("people.setPin", { requestId: request(), personId: reviewer.id, pin: PIN, presentPin: null }),
  );
  later(bench);
  await calibrateTrain(bench, scene, { right: "96.2" });
  later(bench);
  const calibration = await calibrateTrain(bench, scene);
  later(bench);
  const high = await calibrateTrain(bench, scene, { position: 2, right: "96.6", lineRight: "25" });
  later(bench);
  await as(bench, reviewer.id, () =>
    call("calibrations.confirm", {
      requestId: request(),
      calibrationId: calibration.id,
      words: "settings read through",
    }),
  );
  await call("sheets.confirmTrain", {
    requestId: request(),
    sheetId: scene.sheet.id,
    objectiveId: scene.sheet.objectiveId,
    intermediateMagnification: "1",
    interpupillary: "63",
    eyes: { dioptre: "-1.5", sleeve: "160", glasses: "without" },
  } as never);
  await rowsOfEveryKind(bench, scene);
  await aSecondReading(bench, scene);
  await aCountWithItsRecount(bench, scene);
  await practiceOfAReader(bench);
  await whatHappenedToTheEquipment(bench, scene);
  await somebodyLeft(bench);
  await settingsOfTheLaboratory(bench);
  await signedWithAResetPin(bench, scene, reviewer.id);
  await signOffsThatStandAndFell(bench, scene, reviewer.id);
  later(bench);
  await reevaluation(bench, scene);
  await signAgain(bench, scene, reviewer.id);
  later(bench);
  await call("calibrations.assess", {
    requestId: request(),
    calibrationId: calibration.id,
    reason: "before the yearly review",
  });
  later(bench);
  await somethingOverdue(bench, scene);
  later(bench);
  await importNotebook(bench, scene);
  later(bench);
  await call("calibrations.withdraw", {
    requestId: request(),
    calibrationId: (await call("calibrations.list", { trainId: high.trainId }))[0]?.id ?? "",
    reason: "stand was moved",
  });
  return scene;
}
