import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../../support/bench-scenes.ts";
import { normalFrom } from "../../../support/seeded-normal.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const own = () => bench.call("ownReading.read", {});

/** Sixty invented specimens, their right edges as a reader writes them down. */
async function readSixty(habit: (position: number) => string): Promise<void> {
  const normal = normalFrom(7);
  for (let n = 1; n <= 60; n += 1) {
    await enterLength(bench, scene, `row-${n}`, "10", habit(45 + 3 * normal()));
  }
}

async function another(name: string): Promise<string> {
  const { id } = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name, initials: "", interpupillaryMm: "" },
  });
  await bench.call("people.choose", { personId: id });
  return id;
}

describe("how the person at the bench reads", () => {
  it("is told of even digits, and what is shown without a test", async () => {
    await readSixty((position) => position.toFixed(1));
    const found = await own();
    expect(found?.personId).toBe(scene.personId);
    expect(found?.verdict).toMatchObject({ n: 60, uneven: false, preferred: [] });
    const sum = (source: string) =>
      found?.digits.find((one) => one.source === source)?.counts.reduce((a, b) => a + b, 0);
    expect(sum("sheets")).toBe(60);
    expect(sum("calibrations")).toBeGreaterThan(0);
    expect(found?.digits.map(({ source, leftOut }) => [source, leftOut !== null])).toEqual([
      ["sheets", true],
      ["second readings", true],
      ["calibrations", false],
      ["checks", false],
      ["class material", false],
    ]);
  });

  it("is told of a preference to that person alone; a struck row no longer counts", async () => {
    await readSixty((position) => (Math.round(position * 2) / 2).toFixed(1));
    expect((await own())?.verdict).toMatchObject({ n: 60, uneven: true, preferred: [0, 5] });
    await bench.call("rows.strike", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      rowId: "row-60",
      reason: "broken",
    });
    expect((await own())?.verdict?.n).toBe(59);

    const ben = await another("Ben Example");
    const his = await own();
    expect(his).toMatchObject({ personId: ben, verdict: null, agreements: [] });
    expect(his?.digits.every(({ counts }) => counts.every((count) => count === 0))).toBe(true);
  });

  it("is set against the other reader of a closed second reading, each with the own sign", async () => {
    for (const [n, right] of ["41.2", "44.7", "47.5", "52.1"].entries()) {
      await enterLength(bench, scene, `row-${n + 1}`, "10", right);
    }
    await another("Ben Example");
    const rowIds = ["row-1", "row-2", "row-3", "row-4"];
    const second = await bench.call("secondReadings.start", {
      requestId: bench.request(),
      sheetId: scene.sheet.id,
      choice: { kind: "rows", rowIds },
      note: "",
    });
    expect((await own())?.agreements).toEqual([]);
    for (const [at, right] of ["41.4", "45.0", "47.7", "52.2"].entries()) {
      for (const [edge, typed] of [
        ["left", "10"],
        ["right", right],
      ] as const) {
        await bench.call("secondReadings.enter", {
          requestId: bench.request(),
          secondReadingId: second.id,
          rowId: rowIds[at] ?? "",
          cell: { dimension: "length", edge },
          typed,
        });
      }
    }
    await bench.call("secondReadings.close", { requestId: bench.request(), secondReadingId: second.id });
    const [his] = (await own())?.agreements ?? [];
    // Divisions differ by 0.2, 0.3, 0.2 and 0.1: 0.2 on average, of 36.375 and 36.575; 1000/96.4 µm to each.
    expect(his).toMatchObject({ n: 4, number: 1, other: "Ada Example", dimension: "Length" });
    expect(Number(his?.bias)).toBeCloseTo((0.2 * 1000) / 96.4, 4);
    expect(Number(his?.biasPercent)).toBeCloseTo((100 * 0.2) / 36.475, 4);

    await bench.call("people.choose", { personId: scene.personId });
    const [hers] = (await own())?.agreements ?? [];
    expect(hers).toMatchObject({ other: "Ben Example", bias: `-${his?.bias}`, p: his?.p });
    expect(hers?.biasInterval).toEqual({
      lower: `-${his?.biasInterval.upper}`,
      upper: `-${his?.biasInterval.lower}`,
    });

    await another("Cleo Example");
    expect((await own())?.agreements).toEqual([]);
  });

  it("is nobody's while nobody is at the bench", async () => {
    const empty = await tempBench();
    expect(await empty.call("ownReading.read", {})).toBeNull();
    await empty.end();
  });
});
