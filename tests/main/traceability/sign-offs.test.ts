import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { isPin, proofOfPin } from "#main/services/people/pin-proof.ts";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper, withRawDatabase } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { as } from "../../support/traceability-scenes.ts";

// Hundreds of entries, each on disk before it is acknowledged: a busy machine takes its time.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

const PIN = "73194662";
let bench: TempBench;
let scene: Scene;
let reviewerId: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  const reviewer = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Rey Viewer", initials: "RV", interpupillaryMm: "" },
  });
  reviewerId = reviewer.id;
});
afterEach(() => bench.end());

const about = (change: object = {}) => ({ requestId: bench.request(), sheetId: scene.sheet.id, ...change });
const setPin = (personId = reviewerId, pin = PIN) =>
  as(bench, personId, () =>
    bench.call("people.setPin", { requestId: bench.request(), personId, pin, presentPin: null }),
  );
const close = () => bench.call("sheets.close", about({ words: "" }) as never);
const review = () => as(bench, reviewerId, () => bench.call("sheets.review", about({ words: "" }) as never));
const sign = (pin = PIN) => about({ personId: reviewerId, pin, words: "" });
const state = async () => (await bench.call("sheets.signOffs", { sheetId: scene.sheet.id })).state;
const amend = (reason?: string) => ({
  ...about(),
  rowId: "row-1",
  cell: { dimension: "length", edge: "right" },
  typed: "61",
  label: "",
  ...(reason === undefined ? {} : { reason }),
});

describe("a sheet is closed, reviewed by another person and signed", () => {
  it("in that order, and each says what is missing", async () => {
    await setPin();
    expect(await bench.refusal("sheets.sign", sign())).toMatchObject({ code: "sheet.not-closed" });
    await close();
    expect(await bench.refusal("sheets.review", about({ words: "" }))).toMatchObject({
      code: "review.own-work",
    });
    expect(await bench.refusal("sheets.sign", sign())).toMatchObject({ code: "sheet.not-reviewed" });
    await review();
    expect(await bench.call("sheets.sign", sign() as never)).toMatchObject({ state: "signed" });
    expect(await bench.refusal("sheets.sign", sign())).toMatchObject({ code: "sheet.signed" });
    expect(await bench.call("sheets.states", {})).toEqual([
      { sheetId: scene.sheet.id, state: "signed", asksForSignature: false },
    ]);
    expect(await bench.call("trail.verify", {})).toMatchObject({ signOffs: 3, differences: [] });
    const [line] = await bench.call("trail.page", { before: null, count: 1 });
    expect(line).toMatchObject({ act: "sheets.sign", personId: reviewerId });
  });

  it("a laboratory of one signs without review once it has said so", async () => {
    await setPin();
    await close();
    const settings = await bench.call("laboratory.settings", {});
    await bench.call("laboratory.change", {
      requestId: bench.request(),
      settings: { ...settings, reviewBeforeSigning: false },
      reason: "one person works here",
    });
    expect(await bench.call("sheets.sign", sign() as never)).toMatchObject({ state: "signed" });
  });

  it("an empty sheet is not closed", async () => {
    const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } =
      scene.sheet;
    const empty = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
    });
    const input = { requestId: bench.request(), sheetId: empty.id, words: "" };
    expect(await bench.refusal("sheets.close", input)).toMatchObject({ code: "sheet.empty" });
  });
});

describe("a change of a closed sheet", () => {
  beforeEach(async () => {
    await setPin();
    await close();
    await review();
    await bench.call("sheets.sign", sign() as never);
  });

  it("asks for its reason, and nothing is changed without one", async () => {
    const error = await bench.refusal("rows.enter", amend());
    expect(error).toMatchObject({ code: "sheet.closed", field: "reason" });
    expect(error.hint).toContain("signature falls");
    expect(await state()).toBe("signed");
    const describe_ = { ...about(), rowId: "row-1", label: "b", note: "" };
    expect(await bench.refusal("rows.describe", describe_)).toMatchObject({ code: "sheet.closed" });
    expect(await bench.refusal("rows.undo", about())).toMatchObject({ code: "sheet.closed" });
  });

  it("with a reason is an amendment that takes review and signature back", async () => {
    const row = await bench.call("rows.enter", amend("misread the last digit") as never);
    expect(row.measurements[0]?.right).toBe("61");
    expect(await bench.call("sheets.signOffs", { sheetId: scene.sheet.id })).toMatchObject({
      state: "closed",
      asksForSignature: true,
      signOffs: [
        { kind: "signed", ended: { reason: "misread the last digit" } },
        { kind: "reviewed", ended: { reason: "misread the last digit" } },
        { kind: "closed", ended: null },
      ],
    });
    const lines = await bench.call("trail.page", { before: null, count: 2 });
    expect(lines.map((line) => [line.act, line.reason])).toEqual([
      ["sheets.signatureFell", "misread the last digit"],
      ["rows.amend", "misread the last digit"],
    ]);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("that changes nothing leaves the signature", async () => {
    await bench.call("rows.enter", { ...amend("just looking"), typed: "51.5" } as never);
    expect(await state()).toBe("signed");
  });

  it("striking a row and adding one are changes as well", async () => {
    await bench.call("rows.strike", about({ rowId: "row-1", reason: "wrong specimen" }) as never);
    expect(await state()).toBe("closed");
    const cell = { dimension: "length", edge: "left" };
    const added = about({ rowId: "row-2", cell, typed: "3", label: "", reason: "one was forgotten" });
    await bench.call("rows.enter", added as never);
    expect(await state()).toBe("closed");
  });

  it("reopened for measuring it takes readings as before", async () => {
    await bench.call("sheets.reopen", about({ reason: "closed too early" }) as never);
    await enter(bench, scene, "row-2", { dimension: "length", edge: "left" }, "3");
    expect(await state()).toBe("open");
  });

  it("behind the program's back is named by verify, however carefully it was done", async () => {
    tamper(bench.paths.databaseFile, "UPDATE specimen_row SET note = 'mine'");
    const { differences } = await bench.call("trail.verify", {});
    expect(differences.map((one) => one.where)).toContain("sheet S-0001, signed, data of the sheet");
  });
});

describe("a PIN", () => {
  it("is proven by scrypt with a salt of its own, and told from every other", async () => {
    const [one, other] = await Promise.all([proofOfPin(PIN), proofOfPin(PIN)]);
    expect(one.hash).not.toBe(other.hash);
    expect(await isPin(PIN, one)).toBe(true);
    expect(await isPin(`${PIN} `, one)).toBe(false);
    expect(await isPin("é4242", await proofOfPin("e\u03014242"))).toBe(true);
  });

  it("stands nowhere on the disk, neither as typed nor as anything it could be guessed from", async () => {
    await setPin();
    await close();
    await review();
    await bench.call("sheets.sign", sign() as never);
    await bench.refusal("sheets.sign", sign("00000000"));
    await bench.program.close();
    const bytes = readFileSync(bench.paths.databaseFile).toString("latin1");
    expect(bytes).not.toContain(PIN);
    expect(bytes).not.toContain('00000000"');
    const requests = withRawDatabase(bench.paths.databaseFile, (db) =>
      db.prepare("SELECT digest FROM request WHERE act IN ('people.setPin', 'sheets.sign')").pluck().all(),
    );
    expect(requests).toHaveLength(2);
    await bench.reopen();
  });

  it("is asked for in its turn: wrong ones are counted and then have to wait", async () => {
    await setPin();
    await close();
    await review();
    const wrong = async () => (await bench.refusal("sheets.sign", sign("0000"))).code;
    expect([await wrong(), await wrong(), await wrong()]).toEqual(["pin.wrong", "pin.wrong", "pin.blocked"]);
    expect(await bench.refusal("sheets.sign", sign())).toMatchObject({ code: "pin.blocked" });
    await bench.reopen();
    expect(await bench.refusal("sheets.sign", sign())).toMatchObject({ code: "pin.blocked" });
    bench.clock.set("2026-03-02T10:00:00.000Z");
    expect(await wrong()).toBe("pin.blocked");
    bench.clock.set("2026-03-02T11:00:00.000Z");
    expect(await bench.call("sheets.sign", sign() as never)).toMatchObject({ state: "signed" });
  });

  it("several guesses at once count as several", async () => {
    await setPin();
    const codes = await Promise.all(
      Array.from({ length: 5 }, async () => (await bench.refusal("sheets.sign", sign("0000"))).code),
    );
    expect(codes.filter((code) => code === "pin.wrong")).toHaveLength(2);
  });

  it("is set in person and changed with the present one", async () => {
    const set = (change: object) => ({
      requestId: bench.request(),
      personId: reviewerId,
      pin: PIN,
      presentPin: null,
      ...change,
    });
    expect(await bench.refusal("people.setPin", set({}))).toMatchObject({ code: "pin.missing" });
    await setPin();
    expect(await bench.refusal("people.setPin", set({ pin: "9999" }))).toMatchObject({ code: "pin.wrong" });
    await bench.call("people.setPin", set({ pin: "9999", presentPin: PIN }) as never);
    expect(await bench.call("people.pins", {})).toMatchObject([
      { hasPin: false },
      { personId: reviewerId, hasPin: true, reset: null },
    ]);
  });
});
