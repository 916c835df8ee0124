import { createHash } from "node:crypto";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { ReadIn } from "#core/contract/records/read-in.ts";
import { SheetDocument } from "#core/contract/records/sheet-document.ts";
import { assemble } from "#main/assemble.ts";
import { buildDemoBench } from "#main/demo/build-demo.ts";
import { bundleOfDocument, digestOfDocument } from "#main/exchange/json-file.ts";
import { historyDigest } from "#main/workbook/sheet-book/data-digest.ts";
import {
  buildScene,
  COVERED_IN_A_DRAWER,
  calibrateTrain,
  enter,
  enterLength,
  type Scene,
  type SceneChoice,
  trainOfPosition,
} from "../../support/bench-scenes.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { dumpOf, tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench, tempFolder } from "../../support/temp-bench.ts";
import {
  correctCertificate,
  reevaluateWith,
  signSheet,
  tellStory,
} from "../../support/traceability-scenes.ts";
import { callOn, exportJson } from "./exported.ts";
import { uploadBytes } from "./upload.ts";

const PATIENCE_MS = 180_000;
let empty: TempBench;
let reader = "";

/** A bench with nobody's work on it, and one person at it. */
beforeEach(async () => {
  empty = await tempBench({ ids: countedIds("new") });
  const person = await empty.call("people.register", {
    requestId: empty.request(),
    person: { name: "Ines Reader", initials: "IR", interpupillaryMm: "" },
  });
  await empty.call("people.choose", { personId: person.id });
  reader = person.id;
});
afterEach(() => empty.end());

async function readIn(text: string, personId: string | null = null): Promise<ReadIn> {
  const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
  return empty.call("documents.readIn", { requestId: empty.request(), uploadId, personId });
}

async function refused(text: string): Promise<string> {
  const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
  const look = await empty.refusal("documents.look", { uploadId });
  const input = { requestId: empty.request(), uploadId, personId: null };
  const refusal = await empty.refusal("documents.readIn", input);
  expect([refusal.code, refusal.field]).toEqual(["document.unfit", "uploadId"]);
  expect(look.message).toBe(refusal.message);
  return refusal.message;
}

/** Everything a document says but when it was made, by whom, and who was on the bench. */
function data(text: string): unknown {
  const { sheets } = SheetDocument.parse(JSON.parse(text));
  return sheets.map(({ people: _, historySha256: __, verdictsSha256: ___, ...sheet }) => sheet);
}

const digestsOf = (text: string): string[] =>
  SheetDocument.parse(JSON.parse(text)).sheets.map((one) => one.dataSha256);

async function expectVerified(bench: TempBench): Promise<void> {
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
}

/** A sheet with everything that can happen to it: corrected, described, struck, re-evaluated, signed, unsigned. */
async function eventfulSheet(
  choice: SceneChoice = {},
): Promise<{ bench: TempBench; scene: Scene; text: string }> {
  const bench = await tempBench();
  const scene = await buildScene(bench, choice);
  await enterLength(bench, scene, "row-0", "3", "9.5");
  await calibrateTrain(bench, scene);
  await calibrateTrain(bench, scene, { position: 2, right: "100", lineRight: "25" });
  await enterLength(bench, scene, "row-1", "23.0", "51,5");
  await enterLength(bench, scene, "row-2", "10.0", "60");
  await enter(bench, scene, "row-1", { dimension: "length", edge: "right" }, "61");
  const at = { sheetId: scene.sheet.id, rowId: "row-2" };
  await bench.call("rows.strike", { requestId: bench.request(), ...at, reason: "two grains" });
  await bench.call("sheets.chooseObjective", {
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    objectiveId: trainOfPosition(scene, 2).objectiveId,
  });
  await enterLength(bench, scene, "row-3", "1", "70.5");
  await enter(bench, scene, "row-4", { dimension: "width", edge: "left" }, "3,5");
  await reevaluateWith(bench, scene, await correctCertificate(bench, scene));
  const close = { sheetId: scene.sheet.id, words: "measured as the method says" };
  await bench.call("sheets.close", { requestId: bench.request(), ...close });
  return { bench, scene, text: await exportJson(bench, [scene.sheet.id]) };
}

describe("the demo bench", () => {
  it(
    "comes back whole: the same data, the same fingerprints, and it verifies",
    async () => {
      const folder = tempFolder();
      await buildDemoBench(folder.paths, { today: "2026-06-15" });
      const program = await assemble({
        paths: folder.paths,
        clock: fixedClock("2026-06-15T12:00:00.000Z"),
        ids: countedIds("later"),
        host: "loopback",
        programVersion: "0.0.0-test",
      });
      const demo = { program, call: callOn(program) };
      const sheets = await demo.call("sheets.list", {});
      const ids = sheets.map((one) => one.id).toReversed();
      const before = await exportJson(demo, ids);
      await program.close();
      folder.remove();

      const told = await readIn(before);
      expect(told.sheets.map((one) => one.number)).toEqual(sheets.map((one) => one.number).toReversed());
      await expectVerified(empty);
      const after = await exportJson(empty, ids);
      expect(digestsOf(after)).toEqual(digestsOf(before));
      expect(data(after)).toEqual(data(before));
      expect(told.counts.rows).toBe(sheets.reduce((sum, one) => sum + one.rowCount, 0));
    },
    PATIENCE_MS,
  );
});

describe("a sheet with a history", () => {
  it("comes back with its replaced results, amendments and sign-offs, and goes on", async () => {
    const { bench, scene, text } = await eventfulSheet();
    const document = SheetDocument.parse(JSON.parse(text));
    const [sheet] = document.sheets;
    expect(sheet?.earlier.calibrations).toHaveLength(1);
    expect(sheet?.earlier.results.map((one) => one.act)).toContain("reevaluations.slice");
    expect(sheet?.signOffs.map((one) => one.kind)).toEqual(["closed"]);
    await bench.end();

    await readIn(text);
    await expectVerified(empty);
    expect(data(await exportJson(empty, [scene.sheet.id]))).toEqual(data(text));
    const states = await empty.call("sheets.states", {});
    expect(states).toEqual([{ sheetId: scene.sheet.id, state: "closed", asksForSignature: false }]);
    expect((await empty.call("rows.superseded", { rowId: "row-1" })).length).toBeGreaterThan(0);

    await empty.reopen();
    await empty.call("sheets.reopen", {
      requestId: empty.request(),
      sheetId: scene.sheet.id,
      reason: "one grain more",
    });
    await enterLength(empty, scene, "row-5", "0", "21.5");
    await enter(empty, scene, "row-5", { dimension: "length", edge: "right" }, "22");
    const position = await empty.call("microscopes.list", {});
    const other = position[0]?.objectives.find((one) => one.position === 1)?.id ?? "";
    await empty.call("sheets.chooseObjective", {
      requestId: empty.request(),
      sheetId: scene.sheet.id,
      objectiveId: other,
    });
    await enterLength(empty, scene, "row-6", "0", "30");
    await expectVerified(empty);
    const { sheets } = SheetDocument.parse(JSON.parse(await exportJson(empty, [scene.sheet.id])));
    const acts = sheets[0]?.amendments.map((line) => line.act) ?? [];
    expect(acts.slice(0, 2)).toEqual(["rows.amend", "rows.strike"]);
    expect(acts.at(-1)).toBe("rows.amend");
  });

  it("is told in the trail: which file, which fingerprint, who, and every record", async () => {
    const { bench, scene, text } = await eventfulSheet();
    await bench.end();
    const told = await readIn(text);
    const lines = await empty.call("trail.page", { before: null, count: 500 });
    const head = lines.find((line) => line.subjectId === told.id);
    expect(head).toMatchObject({ act: "documents.readIn", personId: reader, subject: "read_in" });
    expect(JSON.parse(head?.detail ?? "{}")).toMatchObject({
      fileName: "sheets.json",
      sha256: createHash("sha256").update(text).digest("hex"),
      dataSha256: digestsOf(text)[0],
    });
    const named = lines.filter((line) => line.act === "documents.readIn").map((line) => line.subjectId);
    for (const id of [scene.personId, scene.microscope.id, scene.methodId, scene.sheet.id, "row-0", "row-4"])
      expect(named).toContain(id);
    expect(named).toHaveLength(new Set(named).size);
  });

  it("is read in once, however often the same request comes", async () => {
    const { bench, text } = await eventfulSheet();
    await bench.end();
    const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
    const input = { requestId: empty.request(), uploadId, personId: null };
    const first = await empty.call("documents.readIn", input);
    expect(await empty.call("documents.readIn", input)).toEqual(first);
    expect(await empty.call("sheets.list", {})).toHaveLength(1);
  });

  it("can be read in by a person of the file, who is then at the bench beside a namesake", async () => {
    const { bench, scene, text } = await eventfulSheet();
    const [own] = await bench.call("people.list", {});
    await bench.end();
    await empty.call("people.register", {
      requestId: empty.request(),
      person: { name: own?.name ?? "", initials: "", interpupillaryMm: "" },
    });
    const told = await readIn(text, scene.personId);
    expect(told.readBy).toBe(scene.personId);
    expect((await empty.call("bench.status", {})).personInUse?.id).toBe(scene.personId);
    expect((await empty.call("people.list", {})).filter((one) => one.name === own?.name)).toHaveLength(2);
    await expectVerified(empty);
  });

  it("is named by verify when what came with it is changed in the tables", async () => {
    const { bench, text } = await eventfulSheet();
    await bench.end();
    await readIn(text);
    await empty.program.close();
    tamper(
      empty.paths.databaseFile,
      `UPDATE read_in_amendment SET line_json = replace(line_json, 'two grains', 'one grain');
       UPDATE superseded_measurement SET reason = 'other words'`,
    );
    await empty.reopen();
    const { differences } = await empty.call("trail.verify", {});
    expect(differences.map((one) => one.where)).toEqual([
      expect.stringMatching(/amendments, as told by trail line/),
      expect.stringMatching(/replaced results, as told by trail line/),
    ]);
  });
});

describe("two sheets", () => {
  it(
    "signed, then re-evaluated so that their signatures fall, come back with each of them",
    async () => {
      const bench = await tempBench();
      const story = await tellStory(bench);
      const ids = story.sheets.map((sheet) => sheet.id);
      for (const id of ids) await signSheet(bench, story, id);
      const signed = await exportJson(bench, ids);
      await reevaluateWith(bench, story.scene, await correctCertificate(bench, story.scene));
      const fallen = await exportJson(bench, ids);
      await bench.end();

      await readIn(signed);
      await expectVerified(empty);
      expect(data(await exportJson(empty, ids))).toEqual(data(signed));
      expect((await empty.call("sheets.states", {})).map((one) => one.state)).toEqual(["signed", "signed"]);

      const other = await tempBench({ ids: countedIds("other") });
      const uploadId = await uploadBytes(other, "sheets.json", Buffer.from(fallen));
      const personId = story.reviewerId;
      await other.call("documents.readIn", { requestId: other.request(), uploadId, personId });
      await expectVerified(other);
      expect(data(await exportJson(other, ids))).toEqual(data(fallen));
      expect((await other.call("sheets.states", {})).map((one) => one.asksForSignature)).toEqual([
        true,
        true,
      ]);
      await other.end();
    },
    PATIENCE_MS,
  );
});

describe("a file that is not fit", () => {
  /** Changes a document and makes its fingerprints anew, as somebody who knows the recipe could. */
  function forged(text: string, change: (sheet: SheetDocument["sheets"][number]) => void): string {
    const document = SheetDocument.parse(JSON.parse(text));
    for (const sheet of document.sheets) {
      change(sheet);
      sheet.dataSha256 = digestOfDocument(document, sheet);
      sheet.historySha256 = historyDigest(bundleOfDocument(document, sheet));
    }
    return JSON.stringify(document);
  }

  it("is refused by the field concerned, and nothing is stored", async () => {
    const { bench, text } = await eventfulSheet();
    await bench.end();
    const before = dumpOf(empty.paths.databaseFile);
    const cases: readonly (readonly [string, RegExp])[] = [
      ["no file of ours", /is not JSON text/],
      [text.slice(0, -20), /is not JSON text, or was cut off/],
      ['{"format":"another"}', /format is not “linefall sheets”/],
      [text.replace('"version":8', '"version":9'), /version is 9; this program reads up to version 8/],
      [text.replace('"sample":', '"sampled":'), /sheets\[0\]\.sheet\S* (is missing|holds what no file)/],
      [text.replace('"left":"23.0"', '"left":"24.0"'), /sheets\[0\]\.dataSha256 is not the fingerprint/],
      [text.replace("measured as the", "measured otherwise than the"), /sheets\[0\]\.historySha256 is not/],
      [
        forged(text, ({ rows }) => {
          const size = rows[1]?.measurements[0]?.size;
          if (size) size.value = size.standardUncertainty;
        }),
        /sheets\[0\]\.rows\[1\]\.measurements\[0\], size, value is .* but what was typed gives/,
      ],
      [
        forged(text, ({ calibrations }) => {
          for (const one of calibrations) if (one.result) one.result.factor = one.result.span;
        }),
        /calibration \S+, factor is .* but what was typed gives/,
      ],
      [
        forged(text, ({ stageMicrometers: [first] }) => {
          const line = first?.certificates[0]?.lines[1];
          if (line) line.typedValue = "7.5";
        }),
        /certificate .* of .*, line 2, error is/,
      ],
      [
        forged(text, ({ rows }) => {
          for (const row of rows) for (const one of row.measurements) one.enteredBy = "nobody";
        }),
        /sheets\[0\]\.rows\[0\]\.measurements\[0\]\.enteredBy names nobody, which is not in the file/,
      ],
      [forged(text, ({ rows }) => void rows.splice(1, 1)), /sheets\[0\]\.sheet\.rowCount is 5, but/],
      [
        forged(text, ({ sheet }) => Object.assign(sheet, { number: "Sheet 1" })),
        /sheets\[0\]\.sheet\.number/,
      ],
      [
        forged(text, ({ sheet, rows }) => {
          for (const row of rows.slice(0, 1)) row.id = sheet.id;
        }),
        /sheets\[0\]\.rows\[0\]\.id has the identifier \S+ of another record/,
      ],
      [
        forged(text, ({ rows, microscope }) => {
          for (const row of rows.slice(2, 3)) row.id = microscope.objectives[0]?.id ?? "";
        }),
        /sheets\[0\]\.rows\[2\]\.id has the identifier \S+ of another record/,
      ],
      [
        forged(text, ({ rows }) => {
          for (const row of rows.slice(1, 2)) row.note = `half of 😀: ${"😀".slice(0, 1)}`;
        }),
        /sheets\[0\]\.rows\[1\]\.note holds half a character/,
      ],
      [
        forged(text, ({ calibrations }) => {
          for (const one of calibrations) one.dueOn = null;
        }),
        /contradict each other \(CHECK constraint failed/,
      ],
    ];
    for (const [content, words] of cases.slice(0, -1)) expect(await refused(content)).toMatch(words);
    const [last] = cases.slice(-1);
    const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(last?.[0] ?? ""));
    const input = { requestId: empty.request(), uploadId, personId: null };
    expect((await empty.refusal("documents.readIn", input)).message).toMatch(last?.[1] ?? /never/);

    expect(dumpOf(empty.paths.databaseFile)).toBe(before);
  });

  it("is refused on a bench that is not empty, which says what it holds", async () => {
    const { bench, text } = await eventfulSheet();
    const uploadId = await uploadBytes(bench, "sheets.json", Buffer.from(text));
    const look = await bench.call("documents.look", { uploadId });
    expect(look.benchHolds).toEqual(["1 microscope", "1 stage micrometer", "1 method", "1 sheet"]);
    const before = dumpOf(bench.paths.databaseFile);
    const input = { requestId: bench.request(), uploadId, personId: null };
    const refusal = await bench.refusal("documents.readIn", input);
    expect(refusal.code).toBe("bench.not-empty");
    expect(refusal.message).toContain("this one holds 1 microscope, 1 stage micrometer, 1 method, 1 sheet.");
    expect(dumpOf(bench.paths.databaseFile)).toBe(before);
    await bench.end();
  });

  it("is refused for a reader who is not among its people", async () => {
    const { bench, text } = await eventfulSheet();
    await bench.end();
    const uploadId = await uploadBytes(empty, "sheets.json", Buffer.from(text));
    const input = { requestId: empty.request(), uploadId, personId: "nobody" };
    expect((await empty.refusal("documents.readIn", input)).code).toBe("person.unknown");
  });
});

it("a file of version 2, which says nothing of cover glass, place and customer, keeps its fingerprints", async () => {
  const { bench, scene, text } = await eventfulSheet({ customer: "" });
  await bench.end();
  expect(text).not.toMatch(/"cover"|"keptAt"|"customer"/);
  const document = SheetDocument.parse(JSON.parse(text));
  const sheets = document.sheets.map((sheet) => {
    const { assessments: _, checks: __, verdictsSha256: ___, ...older } = sheet;
    return older;
  });
  const older = JSON.stringify({ ...document, version: 2, sheets });
  await readIn(older);
  await expectVerified(empty);
  expect(data(await exportJson(empty, [scene.sheet.id]))).toEqual(data(older));
});

it("verdicts and checks come back with who made them, when and why; a changed one is named by verify", async () => {
  const { bench, scene, text } = await eventfulSheet();
  const [first] = await bench.call("calibrations.list", { trainId: trainOfPosition(scene, 1).id });
  await bench.call("calibrations.assess", {
    requestId: bench.request(),
    calibrationId: first?.id ?? "",
    reason: "read again",
  });
  const check = await bench.call("checks.record", {
    requestId: bench.request(),
    check: {
      trainId: trainOfPosition(scene, 1).id,
      stageMicrometerId: scene.micrometer.id,
      certificateId: first?.certificateId ?? "",
      settings: [{ reticleLeft: "0", reticleRight: "96.3", lineLeft: "0", lineRight: "100" }],
      temperature: "",
      remark: "monthly",
    },
  });
  const withdrawal = { requestId: bench.request(), checkId: check.id, reason: "another slide lay there" };
  await bench.call("checks.withdraw", withdrawal);
  const checks = await bench.call("checks.list", { trainId: null });
  const standings = await bench.call("calibrations.approvals", { trainId: null });
  const after = await exportJson(bench, [scene.sheet.id]);
  await bench.end();
  expect(digestsOf(after)).toEqual(digestsOf(text));
  const changed = after.replaceAll('"another slide lay there"', '"nothing was wrong"');
  expect(await refused(changed)).toContain("verdictsSha256 is not the fingerprint");

  const { counts } = await readIn(after);
  expect(counts).toMatchObject({ checks: 1, assessments: expect.any(Number) });
  expect(await empty.call("checks.list", { trainId: null })).toEqual(checks);
  const verdicts = (of: typeof standings) =>
    of.map(({ calibrationId, assessments }) => ({ calibrationId, assessments }));
  expect(verdicts(await empty.call("calibrations.approvals", { trainId: null }))).toEqual(
    expect.arrayContaining(verdicts(standings.filter(({ calibrationId }) => calibrationId === first?.id))),
  );
  await expectVerified(empty);
  expect(data(await exportJson(empty, [scene.sheet.id]))).toEqual(data(after));
  await empty.program.close();
  tamper(empty.paths.databaseFile, "UPDATE calibration_check SET checked_at = '2020-01-01T00:00:00.000Z'");
  await empty.reopen();
  const { differences } = await empty.call("trail.verify", {});
  expect(differences.map(({ where }) => where).join(" ")).toContain(`check ${check.id}`);
});

it("the customer comes back with the sheet, and verify names one that was changed", async () => {
  const { bench, scene, text } = await eventfulSheet();
  await bench.end();
  expect(scene.sheet.customer).toBe("Moor Apiary");
  await readIn(text);
  expect((await empty.call("sheets.list", {}))[0]?.customer).toBe("Moor Apiary");
  expect(digestsOf(await exportJson(empty, [scene.sheet.id]))).toEqual(digestsOf(text));
  await expectVerified(empty);
  await empty.program.close();
  tamper(empty.paths.databaseFile, "UPDATE sheet SET customer = 'Somebody else'");
  await empty.reopen();
  const { differences } = await empty.call("trail.verify", {});
  expect(differences.map((one) => one.where)).toContainEqual(
    expect.stringMatching(/^sheet S-0001, .*customer$/),
  );
});

it("cover glass and place of a micrometer come back, and verify names one that was emptied", async () => {
  const { bench, scene, text } = await eventfulSheet(COVERED_IN_A_DRAWER);
  await bench.end();
  await readIn(text);
  const micrometers = await empty.call("micrometers.list", {});
  expect(micrometers).toEqual([expect.objectContaining(COVERED_IN_A_DRAWER)]);
  expect(digestsOf(await exportJson(empty, [scene.sheet.id]))).toEqual(digestsOf(text));
  await expectVerified(empty);
  await empty.program.close();
  tamper(empty.paths.databaseFile, "UPDATE stage_micrometer SET cover = NULL, kept_at = NULL");
  await empty.reopen();
  const { differences } = await empty.call("trail.verify", {});
  expect(differences.map((one) => one.where)).toEqual([
    "stage micrometer SM 1, as told by trail line 6, cover",
    "stage micrometer SM 1, as told by trail line 6, keptAt",
  ]);
});

it("a file of version 1, without history, is read in too", async () => {
  const { bench, scene, text } = await eventfulSheet();
  await bench.end();
  const { sheets, ...document } = JSON.parse(text);
  for (const sheet of sheets) {
    delete sheet.earlier;
    delete sheet.signOffs;
    delete sheet.historySha256;
    delete sheet.assessments;
    delete sheet.verdictsSha256;
    delete sheet.checks;
  }
  await readIn(JSON.stringify({ ...document, version: 1, sheets }));
  await expectVerified(empty);
  expect(digestsOf(await exportJson(empty, [scene.sheet.id]))).toEqual(digestsOf(text));
});

describe("something overdue that was used knowingly", () => {
  it("comes with its sheet, and an edited reason is refused", async () => {
    const bench = await tempBench();
    const scene = await buildScene(bench);
    await calibrateTrain(bench, scene);
    bench.clock.set("2027-06-01T09:00:00.000Z");
    await enterLength(bench, scene, "row-1", "23.0", "51,5");
    const work = { work: "sheet" as const, workId: scene.sheet.id };
    const reason = "the customer knows and agrees";
    const use = await bench.call("overdueUses.record", { requestId: bench.request(), ...work, reason });
    const text = await exportJson(bench, [scene.sheet.id]);
    expect(await refused(text.replaceAll(reason, "nobody minds at all"))).toContain("verdictsSha256");
    await readIn(text);
    expect((await empty.call("overdueUses.of", work)).uses).toEqual([use]);
    expect(data(await exportJson(empty, [scene.sheet.id]))).toEqual(data(text));
    await expectVerified(empty);
    tamper(empty.paths.databaseFile, "UPDATE overdue_use SET by = by, reason = 'nobody minds'");
    const { differences } = await empty.call("trail.verify", {});
    expect(JSON.stringify(differences)).toContain(`overdue use for sheet ${scene.sheet.id}`);
    await bench.end();
  });
});
