import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

describe("from the certificate to a size", () => {
  it("converts 40 to 60 divisions with 99 divisions on 1 mm to 202.0 µm", async () => {
    // Common practice, no source: 99 div on 1 mm is 10.10101… µm/div, so 20 div are 202.0 µm.
    const calibration = await calibrateTrain(bench, scene);
    expect(calibration.state).toBe("in force");
    expect(calibration.result?.factor).toMatch(/^10\.10101010/);
    const row = await enterLength(bench, scene, "row-1", "40", "60");
    expect(row.measurements[0]).toMatchObject({
      left: "40",
      right: "60",
      divisions: "20",
      calibrationId: calibration.id,
      missing: null,
      flags: [],
    });
    expect(row.measurements[0]?.size?.shownValue).toBe("202.0");
  });

  it("keeps readings as typed: 40.0 and 40,0 are not 40", async () => {
    const row = await enterLength(bench, scene, "row-1", "40.0", " 60,5 ");
    expect(row.measurements[0]).toMatchObject({ left: "40.0", right: "60,5", divisions: "20.5" });
  });
});
