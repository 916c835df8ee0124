import { afterEach, beforeEach, describe, expect, it } from "vitest";
import {
  CORRECTABLE,
  type CorrectableField,
  type CorrectionSubject,
} from "#core/contract/records/correction.ts";
import { AMOUNT_KEYS } from "#core/contract/records/tested-amount.ts";
import { buildScene, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { openCount } from "../../support/count-scene.ts";
import { tamper } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let countId: string;
beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  countId = (await openCount(bench, scene)).id;
});
afterEach(() => bench.end());

const order = (subject: CorrectionSubject, field: CorrectableField, value: string) => ({
  requestId: bench.request(),
  correction: { subject, field, value, reason: "a slip of the first day" },
});
const correct = (subject: CorrectionSubject, field: CorrectableField, value: string) =>
  bench.call("records.correct", order(subject, field, value));
const faults = async () => (await bench.call("trail.verify", {})).differences;

/** A record of every kind there is. */
function subjects(): readonly CorrectionSubject[] {
  const { microscope, micrometer, personId, sheet } = scene;
  return [
    { kind: "person", id: personId },
    { kind: "microscope", id: microscope.id },
    { kind: "objective", id: microscope.objectives[0]?.id ?? "" },
    { kind: "eyepiece", id: microscope.eyepieces[0]?.id ?? "" },
    { kind: "stage micrometer", id: micrometer.id },
    { kind: "sheet", id: sheet.id },
    { kind: "count", id: countId },
  ];
}

describe("a word put right", () => {
  it("of every kind and field: the record reads so, the trail keeps the old one, verify agrees", async () => {
    expect(new Set(subjects().map(({ kind }) => kind))).toEqual(new Set(Object.keys(CORRECTABLE)));
    for (const subject of subjects()) {
      for (const field of CORRECTABLE[subject.kind]) {
        const isNumber = (AMOUNT_KEYS as readonly string[]).includes(field);
        const [first, then] = isNumber
          ? (["7", "8"] as const)
          : ([`${field} put right`, `${field} now`] as const);
        const done = await correct(subject, field, first);
        expect(done).toMatchObject({ subject, field, after: first, by: scene.personId });
        // Twice, so that an earlier correction is followed by a later one.
        expect(await correct(subject, field, then)).toMatchObject({ before: first });
      }
    }
    const sheetId = scene.sheet.id;
    expect((await bench.call("sheets.get", { sheetId })).sheet).toMatchObject({
      sample: "sample now",
      customer: "customer now",
      note: "note now",
    });
    const [microscope] = await bench.call("microscopes.list", {});
    expect(microscope).toMatchObject({
      name: "name now",
      maker: "maker now",
      model: "model now",
      serial: "serial now",
    });
    expect(microscope?.objectives[0]?.serial).toBe("serial now");
    const { lines } = await bench.call("registers.history", { kind: "person", id: scene.personId });
    expect(
      lines.filter(({ act }) => act === "records.correct").map(({ detail }) => JSON.parse(detail).before),
    ).toContain("name put right");
    expect(await faults()).toEqual([]);
  });

  it("that is changed in the file behind the program's back is named by verify", async () => {
    const subject = { kind: "sheet", id: scene.sheet.id } as const;
    await correct(subject, "sample", "Lime honey 12");
    await bench.program.close();
    tamper(bench.paths.databaseFile, "UPDATE sheet SET sample = 'Lime honey 13'");
    await bench.reopen();
    expect((await faults()).map(({ where }) => where)).toEqual([expect.stringMatching(/sheet .*sample/)]);
  });

  it("may be filled in later and taken away again, and a customer who is taken away is none", async () => {
    const subject = { kind: "sheet", id: scene.sheet.id } as const;
    expect(await correct(subject, "customer", "Invented Dairy")).toMatchObject({
      before: "Moor Apiary",
    });
    await correct(subject, "customer", "");
    const { sheet } = await bench.call("sheets.get", { sheetId: scene.sheet.id });
    expect(sheet).not.toHaveProperty("customer");
    expect(await faults()).toEqual([]);
  });

  it("is answered once however often it is asked", async () => {
    const asked = order({ kind: "person", id: scene.personId }, "initials", "AX");
    const first = await bench.call("records.correct", asked);
    expect(await bench.call("records.correct", asked)).toEqual(first);
    const { lines } = await bench.call("registers.history", { kind: "person", id: scene.personId });
    expect(lines.filter(({ act }) => act === "records.correct")).toHaveLength(1);
  });
});

describe("what is refused", () => {
  it.each([
    ["an empty name", "name", "  ", "correction.value", /Enter a name/],
    ["a field the kind has not", "sample", "x", "correction.field", /not a word of a person/],
    ["two lines for a name", "name", "A\nB", "correction.value", /one line/],
  ] as const)("%s, at its field", async (_, field, value, at, message) => {
    const refused = await bench.refusal(
      "records.correct",
      order({ kind: "person", id: scene.personId }, field, value),
    );
    expect(refused).toMatchObject({
      code: "input.invalid",
      field: at,
      message: expect.stringMatching(message),
    });
  });

  it("the word it has, a record that is not there, a name that another bears", async () => {
    const person = { kind: "person", id: scene.personId } as const;
    const { name } = (await bench.call("people.list", {}))[0] ?? { name: "" };
    expect(await bench.refusal("records.correct", order(person, "name", name))).toMatchObject({
      code: "item.unchanged",
    });
    expect(
      await bench.refusal("records.correct", order({ kind: "sheet", id: "none" }, "sample", "x")),
    ).toMatchObject({
      code: "item.unknown",
    });
    const other = await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Ben Other", initials: "", interpupillaryMm: "" },
    });
    expect(
      await bench.refusal(
        "records.correct",
        order({ kind: "person", id: other.id }, "name", name.toUpperCase()),
      ),
    ).toMatchObject({
      code: "person.taken",
    });
    // The same name in other letters is no other person.
    expect(await correct(person, "name", name.toUpperCase())).toMatchObject({ after: name.toUpperCase() });
    expect(await faults()).toEqual([]);
  });

  it("a closed sheet, until it is reopened", async () => {
    const sheetId = scene.sheet.id;
    const subject = { kind: "sheet", id: sheetId } as const;
    await enterLength(bench, scene, "row-1", "10", "32.5");
    await bench.call("sheets.close", { requestId: bench.request(), sheetId, words: "" });
    expect(await bench.refusal("records.correct", order(subject, "sample", "Other"))).toMatchObject({
      code: "sheet.closed",
      hint: expect.stringContaining("Reopen"),
    });
    await bench.call("sheets.reopen", {
      requestId: bench.request(),
      sheetId,
      reason: "the sample is misspelt",
    });
    expect(await correct(subject, "sample", "Other")).toMatchObject({ after: "Other" });
  });
});

it("a report lists the correction among its amendments", async () => {
  await correct({ kind: "sheet", id: scene.sheet.id }, "sample", "Lime honey 12");
  const report = await bench.call("reports.sheet", { sheetId: scene.sheet.id });
  expect(report.amendments).toContainEqual(
    expect.objectContaining({
      what: expect.stringMatching(/^Sample corrected: .* → Lime honey 12$/),
      reason: "a slip of the first day",
    }),
  );
});
