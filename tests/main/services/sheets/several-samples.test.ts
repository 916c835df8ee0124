import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

function input(samples: readonly string[]) {
  const { methodId, sheet } = scene;
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const shared = { customer: "Moor Apiary", note: "", methodId, microscopeId, eyepieceId, objectiveId };
  return {
    requestId: bench.request(),
    sheet: { ...shared, intermediateMagnification },
    samples: [...samples],
  };
}

const FORTY = Array.from({ length: 40 }, (_, at) => `Jar ${at + 1}`);

describe("several samples of one job", () => {
  it("get a sheet each, in their order, told to the trail one by one and known to verify", async () => {
    const asked = input(FORTY);
    const opened = await bench.call("sheets.openMany", asked);
    expect(opened.map(({ sample }) => sample)).toEqual(FORTY);
    expect(opened.map(({ number }) => number)).toEqual(
      FORTY.map((_, at) => `S-${String(at + 2).padStart(4, "0")}`),
    );
    expect(await bench.call("sheets.openMany", asked), "a repeated request").toEqual(opened);
    expect(await bench.call("sheets.list", {})).toHaveLength(41);
    const lines = await bench.call("trail.page", { before: null, count: 40 });
    expect(lines.every(({ act }) => act === "sheets.open")).toBe(true);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("are opened all or not at all", async () => {
    const refused = await bench.refusal("sheets.openMany", {
      ...input(["A", "B"]),
      sheet: { ...input([]).sheet, objectiveId: "none" },
    });
    expect(refused.code).toBe("objective.unknown");
    expect(await bench.call("sheets.list", {})).toHaveLength(1);
  });

  it("have names of their own", async () => {
    expect(await bench.refusal("sheets.openMany", input(["Jar 1", "Jar 2", "Jar 1"]))).toMatchObject({
      code: "input.invalid",
      field: "samples",
      message: expect.stringContaining("“Jar 1” twice, as 1 and 3"),
    });
    expect(await bench.refusal("sheets.openMany", input([]))).toMatchObject({ field: "samples" });
    expect(
      await bench.refusal("sheets.openMany", input(Array.from({ length: 201 }, (_, at) => `Jar ${at}`))),
    ).toMatchObject({ message: expect.stringContaining("at most 200") });
  });
});
