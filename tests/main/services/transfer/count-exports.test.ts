import { existsSync, readdirSync, readFileSync } from "node:fs";
import { afterEach, beforeEach, expect, it } from "vitest";
import type { CountingAct } from "#core/contract/records/count.ts";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { openCount } from "../../../support/count-scene.ts";
import { finishedExport } from "../../../support/finished-export.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

const FIELDS = 3;
const PRESSES = 150;

let bench: TempBench;
let scene: Scene;
let countId: string;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  countId = (await openCount(bench, scene)).id;
  const base = () => ({ requestId: bench.request(), waitedMs: 0 });
  for (let field = 1; field <= FIELDS; field += 1) {
    const next: CountingAct[] = field === 1 ? [] : [{ kind: "field", ...base(), position: null }];
    const presses = Array.from({ length: PRESSES }, (): CountingAct => {
      return { kind: "press", ...base(), category: "diatoms", weight: "1", rowId: null };
    });
    await bench.call("counts.pressMany", { countId, acts: [...next, ...presses] });
  }
});
afterEach(() => bench.end());

it("ends with every line counted, a file and the digest of its data, in every format", async () => {
  const { lastSequence } = await bench.call("counts.get", { countId });
  expect(lastSequence).toBeGreaterThan(FIELDS * PRESSES);
  await bench.call("counts.close", { requestId: bench.request(), countId, lastFieldCounted: true });
  const digests = new Set<string | undefined>();
  for (const [format, rows] of [
    ["live workbook", FIELDS + lastSequence],
    ["values workbook", FIELDS + lastSequence],
    ["csv", FIELDS],
    ["json", lastSequence],
  ] as const) {
    const begun = await bench.call("counts.export", { countId, format, paper: "A4" });
    expect(begun, format).toMatchObject({ state: "writing", ofRows: rows });
    const done = await finishedExport(bench, begun);
    expect(done, format).toMatchObject({ state: "done", rows, ofRows: rows, trouble: null });
    expect(existsSync(done.file?.path ?? ""), format).toBe(true);
    digests.add(done.file?.dataSha256);
  }
  expect(digests.size).toBe(1);
});

// A table of three fields may be written before it can be stopped; how a writer stops is tested with its pace.
it.each(["live workbook", "values workbook"] as const)(
  "can be stopped as %s, and leaves no file behind",
  async (format) => {
    const begun = await bench.call("counts.export", { countId, format, paper: "A4" });
    await bench.call("exports.cancel", { exportId: begun?.exportId ?? "" });
    expect(await finishedExport(bench, begun)).toMatchObject({ state: "cancelled", file: null });
    expect(readdirSync(bench.paths.exportFolder)).toEqual([]);
  },
);

it("goes on while the window presses keys, and holds what was there when it began", async () => {
  const begun = await bench.call("counts.export", { countId, format: "json", paper: "A4" });
  const act = { kind: "press" as const, requestId: bench.request(), waitedMs: 0, category: "diatoms" };
  await bench.call("counts.press", { countId, act: { ...act, weight: "1", rowId: null } });
  const { file } = await finishedExport(bench, begun);
  const { events, tally: count } = JSON.parse(readFileSync(file?.path ?? "", "utf8"));
  expect(events).toHaveLength(count.lastSequence);
  expect(count.lastSequence).toBe((await bench.call("counts.get", { countId })).lastSequence - 1);
});

it("refuses a count that is not there", async () => {
  const refusal = await bench.refusal("counts.export", { countId: "none", format: "csv", paper: "A4" });
  expect(refusal.code).toBe("count.unknown");
});
