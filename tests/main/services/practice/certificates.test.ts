import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import { trueReadings } from "../../../support/practice-reader.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

const PIN = "4 invented words";
const SEED = 5113;

let bench: TempBench;
let reader: string;
let examiner: string;

async function register(name: string, initials: string): Promise<string> {
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name, initials, interpupillaryMm: "63" },
  });
  await bench.call("people.choose", { personId: id });
  await bench.call("people.setPin", { requestId: bench.request(), personId: id, pin: PIN, presentPin: null });
  return id;
}

beforeEach(async () => {
  bench = await tempBench();
  examiner = await register("Ben Example", "BE");
  reader = await register("Ada Example", "AE");
});
afterEach(() => bench.end());

async function read(how: (truth: number) => number): Promise<string> {
  const { id } = await bench.call("practice.begin", {
    requestId: bench.request(),
    exercise: "tenths",
    seed: SEED,
  });
  for (const [index, truth] of trueReadings(SEED).entries()) {
    await bench.call("practice.answer", {
      requestId: bench.request(),
      attemptId: id,
      ordinal: index + 1,
      typed: { reading: how(truth).toFixed(1) },
    });
  }
  return id;
}

const signed = (attemptId: string, examinerId = examiner, pin = PIN): CallInput<"practice.sign"> => ({
  requestId: bench.request(),
  attemptId,
  examinerId,
  pin,
  words: "watched at the bench",
});

const certificateOf = async (attemptId: string) =>
  (await bench.call("practice.certificates", {})).find((one) => one.attemptId === attemptId) ?? null;

const withdrawn = (attemptId: string, examinerId = examiner, pin = PIN): CallInput<"practice.withdraw"> => ({
  requestId: bench.request(),
  attemptId,
  examinerId,
  pin,
  reason: "made with the truth beside it",
});

const ofReader = async () =>
  (await bench.call("practice.competence", {})).find(
    (one) => one.personId === reader && one.exercise === "tenths",
  );

const setSignature = async (practiceBySignature: boolean) => {
  const settings = await bench.call("laboratory.settings", {});
  await bench.call("laboratory.change", {
    requestId: bench.request(),
    settings: { ...settings, practiceBySignature },
    reason: "as the quality manual says",
  });
};

describe("a certificate of practice", () => {
  it("is signed by an examiner with a PIN, once, under a number, over the attempt as it stands", async () => {
    const attemptId = await read((truth) => truth);
    expect(await certificateOf(attemptId)).toBeNull();
    const input = signed(attemptId);
    const certificate = await bench.call("practice.sign", input);
    expect(certificate).toMatchObject({ number: 1, examinerId: examiner, words: "watched at the bench" });
    expect(await bench.call("practice.sign", { ...input, pin: PIN })).toEqual(certificate);
    expect(await bench.refusal("practice.sign", signed(attemptId))).toMatchObject({ code: "attempt.signed" });
    expect(await certificateOf(attemptId)).toEqual(certificate);
    expect(await ofReader()).toMatchObject({ state: "proven", attemptId, certificate: { number: 1 } });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("is not signed by the reader, with a wrong PIN, or under an attempt that is not met or has no end", async () => {
    const met = await read((truth) => truth);
    expect(await bench.refusal("practice.sign", signed(met, reader))).toMatchObject({
      code: "certificate.own",
      field: "examinerId",
    });
    expect(await bench.refusal("practice.sign", signed(met, examiner, "another one"))).toMatchObject({
      code: "pin.wrong",
      field: "pin",
    });
    const failed = await read((truth) => truth + 0.6);
    expect(await bench.refusal("practice.sign", signed(failed))).toMatchObject({ code: "attempt.not-met" });
    const { id: begun } = await bench.call("practice.begin", {
      requestId: bench.request(),
      exercise: "line-up",
      seed: null,
    });
    expect(await bench.refusal("practice.sign", signed(begun))).toMatchObject({ code: "attempt.not-met" });
    expect(await certificateOf(met)).toBeNull();
  });
});

describe("the withdrawal of a certificate", () => {
  it("is an examiner's with a PIN and a reason, once; the certificate stays readable and verify follows", async () => {
    const attemptId = await read((truth) => truth);
    const certificate = await bench.call("practice.sign", signed(attemptId));
    bench.clock.set("2026-06-01T09:00:00.000Z");
    const input = withdrawn(attemptId);
    const after = await bench.call("practice.withdraw", input);
    expect(after).toEqual({
      ...certificate,
      withdrawn: {
        examinerId: examiner,
        at: expect.stringMatching(/^2026-06-01T09:00:00/),
        reason: "made with the truth beside it",
      },
    });
    expect(await certificateOf(attemptId)).toEqual(after);
    expect(await bench.call("practice.withdraw", input)).toEqual(after);
    expect(await bench.refusal("practice.withdraw", withdrawn(attemptId))).toMatchObject({
      code: "certificate.withdrawn",
    });
    expect(await bench.refusal("practice.sign", signed(attemptId))).toMatchObject({ code: "attempt.signed" });
    const trail = await bench.call("trail.page", { before: null, count: 5 });
    expect(JSON.stringify(trail)).toContain("made with the truth beside it");
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
    tamper(bench.paths.databaseFile, "UPDATE practice_withdrawal SET reason = 'none needed'");
    expect(JSON.stringify((await bench.call("trail.verify", {})).differences)).toContain(
      "withdrawal of certificate of practice no. 1",
    );
  });

  it("is not the reader's, not with a wrong PIN, not without a reason, and not of what was never signed", async () => {
    const attemptId = await read((truth) => truth);
    expect(await bench.refusal("practice.withdraw", withdrawn(attemptId))).toMatchObject({
      code: "certificate.missing",
    });
    const certificate = await bench.call("practice.sign", signed(attemptId));
    for (const [input, code] of [
      [withdrawn(attemptId, reader), "certificate.own"],
      [withdrawn(attemptId, examiner, "another one"), "pin.wrong"],
      [{ ...withdrawn(attemptId), reason: " " }, "input.invalid"],
    ] as const)
      expect(await bench.refusal("practice.withdraw", input)).toMatchObject({ code });
    expect(await certificateOf(attemptId)).toEqual(certificate);
  });

  it.each([true, false])(
    "ends the proof and falls due, whether signatures are asked for (%s); practising again proves anew",
    async (bySignature) => {
      await setSignature(bySignature);
      const attemptId = await read((truth) => truth);
      await bench.call("practice.sign", signed(attemptId));
      expect(await ofReader()).toMatchObject({ state: "proven", attemptId });
      await bench.call("practice.withdraw", withdrawn(attemptId));
      expect(await ofReader()).toMatchObject({
        state: "withdrawn",
        attemptId,
        certificate: { number: 1, withdrawn: { examinerId: examiner } },
      });
      const { items } = await bench.call("due.list", { withinDays: 30 });
      expect(items.filter(({ kind }) => kind === "practice")).toMatchObject([
        { daysLeft: 0, reason: expect.stringContaining("certificate no. 1 was withdrawn on") },
      ]);
      const again = await read((truth) => truth);
      if (bySignature) {
        expect(await ofReader()).toMatchObject({ state: "awaits an examiner", attemptId: again });
        await bench.call("practice.sign", signed(again));
      }
      expect(await ofReader()).toMatchObject({ state: "proven", attemptId: again });
    },
  );
});

describe("competence", () => {
  it("of everybody in every exercise is not proven at first, and proven by a met attempt alone", async () => {
    const before = await bench.call("practice.competence", {});
    expect(new Set(before.map(({ state }) => state))).toEqual(new Set(["not proven"]));
    const failed = await read((truth) => truth + 0.6);
    expect(await ofReader()).toMatchObject({ state: "not proven", until: null, attemptId: failed });
    const met = await read((truth) => truth);
    expect(await ofReader()).toMatchObject({ state: "proven", attemptId: met });
  });

  it("waits for an examiner where the laboratory asks for one", async () => {
    const attemptId = await read((truth) => truth);
    await setSignature(true);
    expect(await ofReader()).toMatchObject({ state: "awaits an examiner", attemptId });
    await bench.call("practice.sign", signed(attemptId));
    expect(await ofReader()).toMatchObject({ state: "proven", attemptId });
  });

  it("falls due on Bench on the last day of its proof, and asks no more once it lapsed for as long as it lasted", async () => {
    await read((truth) => truth);
    const until = (await ofReader())?.until ?? "";
    const due = async () =>
      (await bench.call("due.list", { withinDays: 3650 })).items.filter(({ kind }) => kind === "practice");
    expect(await due()).toEqual([
      expect.objectContaining({ dueOn: until, what: "practice of Ada Example: Read tenths", trainId: null }),
    ]);
    bench.clock.set("2027-04-06T09:00:00.000Z");
    expect((await due())[0]?.daysLeft).toBeLessThan(0);
    expect(await ofReader()).toMatchObject({ state: "lapsed" });
    bench.clock.set("2028-05-10T09:00:00.000Z");
    expect(await due()).toEqual([]);
  });
});
