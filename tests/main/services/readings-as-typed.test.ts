import fc from "fast-check";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildScene, calibrateTrain, enter, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;
let row = 0;

beforeAll(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterAll(() => bench.end());

const nextRow = () => `row-${++row}`;

it.each([
  ["23.0", "51.5", "28.5"],
  ["40.0", "60", "20"],
  [",5", "5.", "4.5"],
  ["−5", "60", "65"],
  ["-0", "0", "0"],
  ["0.0000000000000000000000000000000001", "1", "0.9999999999999999999999999999999999"],
])("%s and %s are kept as they are and make %s divisions", async (left, right, divisions) => {
  const { measurements } = await enterLength(bench, scene, nextRow(), left, right);
  expect(measurements[0]).toMatchObject({ left, right, divisions });
  expect(measurements[0]?.size).not.toBeNull();
});

it("whatever is typed is either kept to the letter or refused at its field, and is never a fault", async () => {
  const characters = fc.constantFrom(..."0123456789.,-− eE+x½٣\t\u00a0");
  const typing = fc.oneof(
    fc.string({ unit: characters, maxLength: 45 }),
    fc.string({ unit: "binary", maxLength: 20 }),
    fc.double().map(String),
  );
  await fc.assert(
    fc.asyncProperty(typing, async (typed) => {
      const rowId = nextRow();
      const input = {
        requestId: bench.request(),
        sheetId: scene.sheet.id,
        rowId,
        cell: { dimension: "length", edge: "left" },
        typed,
        label: "",
      };
      const reply = await bench.program.dispatch("rows.enter", input);
      if (reply.ok) {
        expect(reply.value).toMatchObject({ measurements: [{ left: typed.trim() }] });
        const right = await enter(bench, scene, rowId, { dimension: "length", edge: "right" }, "50");
        expect(right.measurements[0]?.divisions).toMatch(/^-?\d+(\.\d+)?$/);
      } else expect(reply.error).toMatchObject({ code: "reading.unreadable", field: "typed" });
    }),
    { numRuns: 500 },
  );
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});
