import { afterAll, beforeAll, expect, it, vi } from "vitest";
import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import type { TouchedResult } from "#core/contract/records/trace.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import {
  allTouched,
  correctCertificate,
  PIN,
  type Story,
  signSheet,
  tellStory,
  untilDone,
} from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

/* One story told step by step: every test goes on where the one before ended. */
let bench: TempBench;
let story: Story;
let corrected: Certificate;
let touched: TouchedResult[];

beforeAll(async () => {
  bench = await tempBench();
  story = await tellStory(bench);
  await signSheet(bench, story, story.sheets[0].id);
});
afterAll(() => bench.end());

const scope = () => ({
  subject: { kind: "certificate" as const, id: story.scene.certificate.id },
  from: null,
  to: null,
  replacement: { kind: "certificate" as const, certificateId: corrected.id },
});
const rowsOf = async (sheet: number) =>
  (
    await bench.call("rows.page", {
      sheetId: story.sheets[sheet as 0 | 1].id,
      from: 1,
      count: 500,
    })
  ).rows;
const verify = async () => (await bench.call("trail.verify", {})).differences;

it("a corrected certificate takes the place of the one it names, which calibrates nothing any more", async () => {
  corrected = await correctCertificate(bench, story.scene);
  expect(await bench.call("certificates.replacements", {})).toMatchObject([
    { certificateId: story.scene.certificate.id, replacedBy: corrected.id },
  ]);
  const error = await bench.refusal("calibrations.begin", {
    requestId: bench.request(),
    calibration: {
      trainId: story.calibrations[0].trainId,
      stageMicrometerId: story.scene.micrometer.id,
      certificateId: story.scene.certificate.id,
    },
  });
  expect(error).toMatchObject({ code: "certificate.replaced" });
  expect(error.message).toContain("C-1a");
});

it("the forward view lists exactly the rows concerned, with old and new values", async () => {
  const trace = await bench.call("trace.forward", scope());
  expect(trace.counts).toEqual({ sheets: 2, rows: 300, results: 300, signedSheets: 1 });
  expect(trace.calibrations.map((one) => [one.calibrationId, one.results])).toEqual([
    [story.calibrations[0].id, 100],
    [story.calibrations[1].id, 100],
    [story.calibrations[2].id, 100],
  ]);
  // 1004 µm in the place of 1000 µm is 0.4 % on the 10×. Line 25 of the 40× lies half-way between the certified lines 0
  // and 500, whose errors are the same as before: no change there but in the uncertainty of interpolating.
  const changes = trace.calibrations.map((one) => Number(one.replacement?.relativeChange));
  expect(changes.map((one) => one.toFixed(12))).toEqual([
    "0.004000000000",
    "0.004000000000",
    "0.000000000000",
  ]);
  touched = await allTouched(
    bench,
    scope(),
    story.sheets.map((one) => one.id),
  );
  const entered = [...(await rowsOf(0)), ...(await rowsOf(1))];
  expect(touched.map((one) => one.rowId)).toEqual(entered.map((row) => row.id));
  for (const [i, one] of touched.entries()) {
    expect(one.before).toEqual(entered[i]?.measurements[0]?.size);
    const expected = i < 200 ? Number(one.before.value) * 1.004 : Number(one.before.value);
    expect(Number(one.after?.value)).toBeCloseTo(expected, 9);
  }
  // By hand: row 1 reads 1.5 to 21.1, 19.6 div; 1000 µm on 96.4 div gives 203.319502 µm, 1004 µm gives 204.132780 µm;
  // the misalignment allowed by default shifts both alike in the sixth digit.
  expect(Number(touched[0]?.before.value)).toBeCloseTo((19.6 * 1000) / 96.4, 1);
  expect(Number(touched[0]?.after?.value)).toBeCloseTo((19.6 * 1004) / 96.4, 1);
});

it("a narrower window lists no other rows", async () => {
  const none = { ...scope(), from: "2026-03-03" };
  expect((await bench.call("trace.forward", none)).counts.results).toBe(0);
  const all = { ...scope(), from: "2026-03-02", to: "2026-03-02" };
  expect((await bench.call("trace.forward", all)).counts.results).toBe(300);
  const one = {
    ...scope(),
    replacement: null,
    subject: { kind: "calibration" as const, id: story.calibrations[1].id },
  };
  const results = await allTouched(bench, one, [story.sheets[0].id]);
  expect(results.map((result) => result.ordinal)).toEqual(Array.from({ length: 100 }, (_, i) => 101 + i));
});

it("re-evaluation writes the new values and keeps the old ones", async () => {
  const begun = await bench.call("reevaluations.begin", {
    requestId: bench.request(),
    reevaluation: { ...scope(), sheetIds: null, reason: "certificate C-1 was wrong at full length" },
  });
  expect(begun).toMatchObject({ state: "running", total: 300, done: 0 });
  expect(await untilDone(bench, begun.id)).toMatchObject({ state: "finished", done: 300, reopenedSheets: 1 });
  const rows = [...(await rowsOf(0)), ...(await rowsOf(1))];
  expect(rows.map((row) => row.measurements[0]?.size)).toEqual(touched.map((one) => one.after));
  for (const [i, row] of rows.entries()) {
    const [kept, ...others] = await bench.call("rows.superseded", { rowId: row.id });
    expect(others).toEqual([]);
    expect(kept).toMatchObject({
      act: "reevaluations.slice",
      reason: "certificate C-1 was wrong at full length",
      measurement: { size: touched[i]?.before, calibrationId: touched[i]?.calibrationId },
    });
  }
});

it("each calibration has a recalculated one beside it, in force where the first was", async () => {
  const calibrations = await bench.call("calibrations.list", { trainId: null });
  const approvals = await bench.call("calibrations.approvals", { trainId: null });
  for (const old of story.calibrations) {
    const approval = approvals.find((one) => one.recalculatedFrom === old.id);
    const made = calibrations.find((one) => one.id === approval?.calibrationId);
    const now = calibrations.find((one) => one.id === old.id);
    expect(made).toMatchObject({ settings: old.settings, certificateId: corrected.id });
    expect(made?.state).toBe(old.id === story.calibrations[0].id ? "superseded" : "in force");
    expect(now).toMatchObject({ state: "superseded", result: old.result });
  }
  expect((await bench.call("trace.forward", { ...scope(), replacement: null })).counts.results).toBe(0);
});

it("the signed sheet asks for its signature again, and the trail verifies", async () => {
  const sheetId = story.sheets[0].id;
  const signOffs = await bench.call("sheets.signOffs", { sheetId });
  expect(signOffs).toMatchObject({ state: "closed", asksForSignature: true });
  expect(signOffs.signOffs.find((one) => one.kind === "signed")?.ended?.reason).toContain("C-1 was wrong");
  expect(await verify()).toEqual([]);
  const { reviewerId } = story;
  await bench.call("people.choose", { personId: reviewerId });
  await bench.call("sheets.review", { requestId: bench.request(), sheetId, words: "again" });
  await bench.call("people.choose", { personId: story.scene.personId });
  const again = { requestId: bench.request(), sheetId, personId: reviewerId, pin: PIN, words: "" };
  expect(await bench.call("sheets.sign", again)).toMatchObject({ state: "signed", asksForSignature: false });
  expect(await verify()).toEqual([]);
});

it("the chain of one result leads from its readings to the laboratory", async () => {
  const [row] = await rowsOf(0);
  const chain = await bench.call("trace.backward", { rowId: row?.id ?? "", dimension: "length" });
  expect(chain).toMatchObject({
    measurement: { left: "1.5", right: "21.1" },
    calibration: { stateThen: "in force", approval: { origin: "recalculated" } },
    micrometer: { serial: "4711" },
    certificate: { number: "C-1a", laboratory: "Invented Length Laboratory" },
    certificateReplacement: null,
    signOffs: { state: "signed" },
  });
  expect(chain.earlierResults).toHaveLength(1);
  expect(chain.people.map((one) => one.name)).toEqual(["Ada Example", "Rey Viewer"]);
});

it("the letter names the sheets and its table opens as one line for each", async () => {
  const letter = await bench.call("trace.letter", {
    ...scope(),
    subject: { kind: "certificate", id: corrected.id },
    replacement: null,
  });
  expect(letter.text).toContain("S-0001");
  expect(letter.text).toContain("S-0002");
  expect(letter.csv.startsWith("\uFEFFSheet,Sample")).toBe(true);
  const lines = letter.csv.trimEnd().split("\r\n");
  expect(lines).toHaveLength(3);
  expect(lines[1]).toContain("S-0001,Honey 7,2026-03-02,2026-03-02,2026-03-02,200,200,,signed");
  expect(lines[2]).toContain('"Honey 7, fine grains"');
});
