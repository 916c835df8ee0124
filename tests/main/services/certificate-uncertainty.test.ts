import { afterEach, beforeEach, expect, it } from "vitest";
import { buildScene, newCertificate, type Scene } from "../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

const plain = () => ({ ...newCertificate(scene.micrometer.id), number: "C-2" });
const register = (certificate: ReturnType<typeof plain> & Record<string, unknown>) => ({
  requestId: bench.request(),
  certificate,
});
/** U of each line as typed; the first is the one they are counted from. */
const byLine = (...typed: readonly string[]) =>
  plain().lines.map((line, i) => ({ ...line, expandedUncertainty: typed[i] ?? "" }));

it("keeps U with its part per length and its degrees of freedom", async () => {
  const stated = { uncertaintyPerMm: "0,05", degreesOfFreedom: "18" };
  const kept = await bench.call("certificates.register", register({ ...plain(), ...stated }));
  expect(kept).toMatchObject({ uncertaintyPerMm: "0.05", degreesOfFreedom: "18" });
  await bench.reopen();
  const micrometers = await bench.call("micrometers.list", {});
  expect(micrometers[0]?.certificates.at(-1)).toEqual(kept);
  expect(micrometers[0]?.certificates[0]).not.toHaveProperty("degreesOfFreedom");
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it("keeps a U for each line, and the largest as that of the certificate", async () => {
  const kept = await bench.call(
    "certificates.register",
    register({ ...plain(), expandedUncertainty: "", lines: byLine("", "0.2", "0.3") }),
  );
  expect(kept.lines.map((line) => line.expandedUncertainty)).toEqual([undefined, "0.2", "0.3"]);
  expect(kept.expandedUncertainty).toBe("0.3");
  expect((await bench.call("trail.verify", {})).differences).toEqual([]);
});

it.each([
  ["a line without its U", { lines: 1 }, "certificate.lines.1.expandedUncertainty"],
  ["degrees of freedom of zero", { degreesOfFreedom: "0" }, "certificate.degreesOfFreedom"],
  ["a part per length that is no number", { uncertaintyPerMm: "1o" }, "certificate.uncertaintyPerMm"],
])("refuses %s at its field", async (_, own, field) => {
  const lines = "lines" in own ? byLine("", "", "0.3") : plain().lines;
  expect(await bench.refusal("certificates.register", register({ ...plain(), ...own, lines }))).toMatchObject(
    { code: "input.invalid", field },
  );
});
