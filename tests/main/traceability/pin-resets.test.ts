import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { driverOf } from "#main/store/connection.ts";
import { ALL_MIGRATIONS } from "#main/store/migrations/all-migrations.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench, tempFolder } from "../../support/temp-bench.ts";
import { as } from "../../support/traceability-scenes.ts";

vi.setConfig({ testTimeout: 60_000, hookTimeout: 120_000 });

/** Invented people: the first with a PIN, one confirmed by the first, one who was only just registered. */
const PINS = { first: "first 1111", owner: "owner 2222", fresh: "fresh 3333", witness: "witness 44" };
let bench: TempBench;
let scene: Scene;
let minute = 0;
const ids = { first: "", owner: "", fresh: "", witness: "" };
type Who = keyof typeof PINS;

function later(): void {
  minute += 1;
  bench.clock.set(`2026-03-02T12:${String(minute).padStart(2, "0")}:00.000Z`);
}

async function register(who: Who): Promise<void> {
  later();
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: `Invented ${who}`, initials: "", interpupillaryMm: "" },
  });
  ids[who] = id;
}

const setPin = (who: Who, pin = PINS[who]) =>
  as(bench, ids[who], () =>
    bench.call("people.setPin", {
      requestId: bench.request(),
      personId: ids[who],
      pin,
      presentPin: null,
    }),
  );
const vouch = (who: Who, by: Who) => ({
  requestId: bench.request(),
  personId: ids[who],
  voucherId: ids[by],
  voucherPin: PINS[by],
});
const reset = (who: Who, by: Who) => ({ ...vouch(who, by), reason: "forgotten" });
const confirmReset = (proof: object) => ({
  requestId: bench.request(),
  personId: ids.owner,
  pin: "owner anew",
  proof,
});
const byWitness = (who: Who) => ({ kind: "third person", witnessId: ids[who], witnessPin: PINS[who] });
const standing = async (who: Who) =>
  (await bench.call("people.pins", {})).find((one) => one.personId === ids[who]);

/** The owner's sheet, closed, with reviews switched off. */
async function signed(pin: string): Promise<{ sheetId: string; pinReset: unknown }> {
  later();
  const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id });
  await bench.call("sheets.close", { ...about(), words: "" });
  later();
  await bench.call("sheets.sign", { ...about(), personId: ids.owner, pin, words: "" });
  const { signOffs } = await bench.call("sheets.signOffs", { sheetId: scene.sheet.id });
  const report = await bench.call("reports.sheet", { sheetId: scene.sheet.id });
  const printed = report.signOffs.filter((one) => one.kind === "signed").at(-1);
  expect(printed?.pinReset?.voucher ?? null).toBe(signOffs[0]?.pinReset ? "Invented first" : null);
  later();
  await bench.call("sheets.reopen", { ...about(), reason: "once more" });
  return { sheetId: scene.sheet.id, pinReset: signOffs[0]?.pinReset ?? null };
}

beforeEach(async () => {
  minute = 0;
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
  for (const who of ["first", "owner", "fresh", "witness"] as const) await register(who);
  later();
  await setPin("first");
  later();
  await setPin("owner");
  const settings = await bench.call("laboratory.settings", {});
  await bench.call("laboratory.change", {
    requestId: bench.request(),
    settings: { ...settings, reviewBeforeSigning: false },
    reason: "one person works here",
  });
});
afterEach(async () => {
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  await bench.end();
});

describe("who vouches for whom", () => {
  it("an invented person resets nobody's PIN, whatever name and PIN they gave themselves", async () => {
    await setPin("fresh");
    expect(await bench.refusal("people.clearPin", reset("owner", "fresh"))).toMatchObject({
      code: "voucher.unfit",
      field: "voucherId",
    });
    expect(await bench.refusal("people.confirm", vouch("fresh", "fresh"))).toMatchObject({
      code: "voucher.unfit",
    });
    expect(await bench.refusal("people.confirm", vouch("owner", "fresh"))).toMatchObject({
      code: "voucher.unfit",
    });
    expect(await standing("owner")).toMatchObject({ hasPin: true, reset: null, confirmed: null });
  });

  it("the first PIN of a bench needs nobody; everybody after that is confirmed by somebody who is", async () => {
    expect(await standing("first")).toMatchObject({ confirmed: { by: ids.first } });
    expect(await bench.refusal("people.confirm", vouch("witness", "first"))).toMatchObject({
      code: "pin.missing",
    });
    later();
    expect(await bench.call("people.confirm", vouch("owner", "first"))).toMatchObject({
      confirmed: { by: ids.first },
    });
    expect(await bench.refusal("people.confirm", vouch("owner", "first"))).toMatchObject({
      code: "person.confirmed",
    });
    const wrong = { ...reset("owner", "first"), voucherPin: "guessed" };
    expect(await bench.refusal("people.clearPin", wrong)).toMatchObject({ code: "pin.wrong" });
  });
});

describe("a PIN that was reset", () => {
  beforeEach(async () => {
    await setPin("witness");
    later();
    await bench.call("people.confirm", vouch("witness", "first"));
    later();
    await bench.call("people.clearPin", reset("owner", "first"));
    later();
    await setPin("owner", "owner anew");
  });

  it("marks every signature until its owner proves with the PIN of before that it was for them", async () => {
    const { pinReset } = await signed("owner anew");
    expect(pinReset).toMatchObject({ voucher: ids.first });
    later();
    await bench.call("people.setPin", {
      requestId: bench.request(),
      personId: ids.owner,
      pin: "owner anew 2",
      presentPin: "owner anew",
    });
    expect((await signed("owner anew 2")).pinReset).toEqual(pinReset);
    const proof = (formerPin: string) => ({
      ...confirmReset({ kind: "former PIN", formerPin }),
      pin: "owner anew 2",
    });
    // Knowing the new PIN proves nothing: whoever vouched may have set it.
    expect(await bench.refusal("people.confirmReset", proof("owner anew 2"))).toMatchObject({
      code: "pin.wrong",
      field: "proof.formerPin",
    });
    later();
    expect(await bench.call("people.confirmReset", proof(PINS.owner) as never)).toMatchObject({
      reset: null,
    });
    expect((await signed("owner anew 2")).pinReset).toBeNull();
    expect(await bench.refusal("people.confirmReset", proof(PINS.owner))).toMatchObject({
      code: "pin.not-reset",
    });
  });

  it("is confirmed by a third person who was confirmed before, not by who vouched and nobody since", async () => {
    await setPin("fresh");
    later();
    await bench.call("people.confirm", vouch("fresh", "first"));
    for (const who of ["first", "fresh", "owner"] as const) {
      expect(await bench.refusal("people.confirmReset", confirmReset(byWitness(who)))).toMatchObject({
        code: "voucher.unfit",
        field: "proof.witnessId",
      });
    }
    later();
    await bench.call("people.confirmReset", confirmReset(byWitness("witness")) as never);
    expect((await signed("owner anew")).pinReset).toBeNull();
  });

  it("vouches for nobody meanwhile", async () => {
    later();
    await bench.call("people.confirm", vouch("owner", "first"));
    const clear = { ...reset("first", "owner"), voucherPin: "owner anew" };
    expect(await bench.refusal("people.clearPin", clear)).toMatchObject({ code: "voucher.unfit" });
  });

  it("reset twice is proven by the PIN of before the first reset alone", async () => {
    later();
    await bench.call("people.clearPin", reset("owner", "first"));
    await setPin("owner", "owner anew");
    const by = (formerPin: string) => confirmReset({ kind: "former PIN", formerPin });
    expect(await bench.refusal("people.confirmReset", by("owner anew"))).toMatchObject({ code: "pin.wrong" });
    later();
    await bench.call("people.confirmReset", by(PINS.owner) as never);
  });

  it("goes with the signature into the JSON file", async () => {
    await signed("owner anew");
    const [signedOnce] = (await bench.call("sheets.signOffs", { sheetId: scene.sheet.id })).signOffs;
    expect(signedOnce?.pinReset).toMatchObject({ voucher: ids.first });
    await bench.program.close();
    // Taken away behind the program's back it is named.
    tamper(
      bench.paths.databaseFile,
      "UPDATE sheet_sign_off SET reset_at = NULL, reset_voucher = NULL WHERE kind = 'signed'",
    );
    await bench.reopen();
    const { differences } = await bench.call("trail.verify", {});
    expect(differences.map((one) => one.where).join()).toMatch(/signed, as told by trail line \d+, pinReset/);
    await bench.program.close();
    tamper(
      bench.paths.databaseFile,
      `UPDATE sheet_sign_off SET reset_at = '${signedOnce?.pinReset?.at}', reset_voucher = '${ids.first}' WHERE kind = 'signed'`,
    );
    await bench.reopen();
  });
});

describe("the count of wrong PINs", () => {
  const guess = async () =>
    (
      await bench.refusal("sheets.sign", {
        requestId: bench.request(),
        sheetId: scene.sheet.id,
        personId: ids.owner,
        pin: "guessed",
        words: "",
      })
    ).code;

  it("outlives the restoring of a backup from before the guesses", async () => {
    const made = await bench.call("backups.make", { requestId: bench.request() });
    expect([await guess(), await guess(), await guess()]).toEqual(["pin.wrong", "pin.wrong", "pin.blocked"]);
    await bench.call("backups.restore", {
      requestId: bench.request(),
      fileName: made.fileName,
      reason: "to guess on",
    });
    expect(await guess()).toBe("pin.blocked");
    // The wait over, the next wrong one waits longer than the first did.
    later();
    expect(await guess()).toBe("pin.blocked");
    bench.clock.set(`2026-03-02T12:${String(minute).padStart(2, "0")}:45.000Z`);
    expect(await guess()).toBe("pin.blocked");
  });
});

describe("a review", () => {
  it("asks for the PIN where the laboratory does, and bears the mark of a reset one", async () => {
    const settings = await bench.call("laboratory.settings", {});
    expect(settings.reviewWithPin).toBe(false);
    await bench.call("laboratory.change", {
      requestId: bench.request(),
      settings: { ...settings, reviewWithPin: true },
      reason: "procedure 9",
    });
    const about = () => ({ requestId: bench.request(), sheetId: scene.sheet.id, words: "" });
    await bench.call("sheets.close", about());
    const review = (pin: string | null) =>
      as(bench, ids.owner, () => bench.refusal("sheets.review", { ...about(), pin }));
    expect(await review(null)).toMatchObject({ code: "pin.wrong", field: "pin" });
    expect(await review("guessed")).toMatchObject({ code: "pin.wrong" });
    const reviewed = await as(bench, ids.owner, () =>
      bench.call("sheets.review", { ...about(), pin: PINS.owner }),
    );
    expect(reviewed.state).toBe("reviewed");
  });
});

it("a bench of before takes whoever had a PIN as confirmed", async () => {
  const folder = tempFolder();
  try {
    const clock = fixedClock();
    const open = (migrations: typeof ALL_MIGRATIONS) =>
      openBench({ paths: folder.paths, clock, host: "test", migrations });
    const before = await open(ALL_MIGRATIONS.filter((one) => one.version < 140));
    driverOf(before.db).exec(
      `INSERT INTO person (id, name, name_key, initials, registered_at) VALUES ('a', 'A', 'a', '', '2026-01-01T00:00:00.000Z'), ('b', 'B', 'b', '', '2026-01-01T00:00:00.000Z');
       INSERT INTO person_pin VALUES ('a', 'x', 'y', 'z', '2026-01-02T00:00:00.000Z', 0, NULL)`,
    );
    before.close();
    const after = await open(ALL_MIGRATIONS);
    expect(driverOf(after.db).prepare("SELECT * FROM person_confirmation").all()).toEqual([
      { person_id: "a", at: "2026-01-02T00:00:00.000Z", by: "a" },
    ]);
    after.close();
  } finally {
    folder.remove();
  }
});
