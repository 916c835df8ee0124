import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import { finishedExport } from "../../../support/finished-export.ts";
import { trueReadings } from "../../../support/practice-reader.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";
import { readBook } from "../../../workbook/other-programs.ts";

const SEED = 5113;
let bench: TempBench;
let teacher: string;

beforeEach(async () => {
  bench = await tempBench();
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Tea Teacher", initials: "TT", interpupillaryMm: "" },
  });
  teacher = id;
  await bench.call("people.choose", { personId: id });
});
afterEach(() => bench.end());

const plan = (over: Partial<CallInput<"practice.makeClass">> = {}): CallInput<"practice.makeClass"> => ({
  requestId: bench.request(),
  name: "Course of March",
  seed: SEED,
  slide: "ruled slide no. 2",
  intervals: 2,
  repeats: 2,
  names: ["Una Pupil", "Tea Teacher", "Otto Pupil"],
  ...over,
});

const read = (classId: string, interval: number, repeat: number, right: string) => ({
  requestId: bench.request(),
  classId,
  interval,
  repeat,
  left: "10.0",
  right,
});

describe("a class", () => {
  it("is made from a list of names without any bench; who is not registered yet is, once", async () => {
    const made = await bench.call("practice.makeClass", plan());
    const people = await bench.call("people.list", {});
    expect(people.map(({ name }) => name)).toEqual(["Tea Teacher", "Una Pupil", "Otto Pupil"]);
    expect(made.memberIds).toEqual([people[1]?.id, teacher, people[2]?.id]);
    expect(await bench.call("practice.classes", {})).toEqual([made]);
    expect((await bench.call("bench.overview", {})).microscopes).toEqual([]);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("with a name twice is refused at that name, and nobody is registered by it", async () => {
    const refused = await bench.refusal("practice.makeClass", plan({ names: ["Una Pupil", "una pupil"] }));
    expect(refused).toMatchObject({ code: "input.invalid", field: "names.1" });
    expect(await bench.call("people.list", {})).toHaveLength(1);
    expect(await bench.call("practice.classes", {})).toEqual([]);
  });

  it("takes readings of real material in order, of members alone, and puts nothing in force", async () => {
    const { id, memberIds } = await bench.call("practice.makeClass", plan());
    expect(await bench.refusal("practice.readSlide", read(id, 2, 1, "50.1"))).toMatchObject({
      code: "reading.order",
    });
    expect(await bench.refusal("practice.readSlide", read(id, 1, 1, "5o"))).toMatchObject({ field: "right" });
    for (const personId of memberIds) {
      await bench.call("people.choose", { personId });
      let number = 0;
      for (const repeat of [1, 2]) {
        for (const interval of [1, 2]) {
          number += 1;
          await bench.call(
            "practice.readSlide",
            read(id, interval, repeat, `${40 + 10 * interval}.${number}`),
          );
        }
      }
    }
    expect(await bench.refusal("practice.readSlide", read(id, 1, 3, "50.1"))).toMatchObject({
      code: "reading.order",
    });
    expect(await bench.call("practice.slideReadings", { classId: id })).toHaveLength(12);
    expect(await bench.call("calibrations.list", { trainId: null })).toEqual([]);
    const { id: stranger } = await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Sam Stranger", initials: "", interpupillaryMm: "" },
    });
    await bench.call("people.choose", { personId: stranger });
    expect(await bench.refusal("practice.readSlide", read(id, 1, 1, "50.1"))).toMatchObject({
      code: "class.notMember",
    });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("hands its results over as a workbook that says Practice and carries the figures", async () => {
    const { id, memberIds } = await bench.call("practice.makeClass", plan());
    for (const personId of memberIds.slice(0, 2)) {
      await bench.call("people.choose", { personId });
      const attempt = await bench.call("practice.begin", {
        requestId: bench.request(),
        exercise: "tenths",
        seed: SEED,
      });
      for (const [index, truth] of trueReadings(SEED).entries()) {
        const off = personId === teacher ? 0 : 0.4;
        await bench.call("practice.answer", {
          requestId: bench.request(),
          attemptId: attempt.id,
          ordinal: index + 1,
          typed: { reading: (truth + off).toFixed(1) },
        });
      }
    }
    const begun = await bench.call("practice.classWorkbook", { classId: id });
    const { file } = await finishedExport(bench, begun);
    const { sheets } = readBook(file?.path ?? "");
    expect(Object.keys(sheets)).toEqual(["Practice", "About"]);
    const text = JSON.stringify(sheets.Practice);
    expect(text).toContain("Practice is never evidence for a factor");
    expect(text).toContain("Una Pupil should practise “Read tenths”: reads too high.");
    expect(text).toContain("Otto Pupil has not done “Read tenths” yet.");
    expect(text).toMatch(/Between people: F\(1, 78\)/);
  });
});
