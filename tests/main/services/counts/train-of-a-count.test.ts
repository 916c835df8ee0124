import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import type { Count } from "#core/contract/records/count.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { areaFactor } from "../../../support/count-data.ts";
import { handOf, openCount } from "../../../support/count-scene.ts";
import { tamper } from "../../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const close = (countId: string): Promise<Count> =>
  bench.call("counts.close", { requestId: bench.request(), countId, lastFieldCounted: true });
const differences = async () => (await bench.call("trail.verify", {})).differences;

async function outOfService(kind: "objective" | "eyepiece" | "microscope", id: string): Promise<void> {
  await bench.call("registers.setServiceState", {
    requestId: bench.request(),
    item: { kind, id },
    state: "out of service",
    from: bench.clock.today(),
    reason: "scratched",
  } as CallInput<"registers.setServiceState">);
}

describe("a part out of service", () => {
  it.each([
    ["objective", "objectiveId"],
    ["eyepiece", "eyepieceId"],
    ["microscope", "microscopeId"],
  ] as const)("%s opens neither a sheet nor a count, at its field", async (kind, field) => {
    const count = await openCount(bench, scene);
    const { train } = count;
    if (!train) throw new Error("a count by fields has a train");
    await outOfService(kind, train[field]);
    const { sample, note, countMethodId, categories, inputs, batch } = count;
    expect(
      await bench.refusal("counts.open", {
        requestId: bench.request(),
        position: null,
        count: { sample, note, countMethodId, train, categories, inputs, batch },
      }),
    ).toMatchObject({ code: "item.out-of-service", field: `count.train.${field}` });
    const sheet = { sample, note, methodId: scene.sheet.methodId, ...train };
    expect(await bench.refusal("sheets.open", { requestId: bench.request(), sheet })).toMatchObject({
      code: "item.out-of-service",
      field: `sheet.${field}`,
    });
  });
});

describe("a train that is used all the same", () => {
  it("says so with every result, when it is overdue at the opening and out of service at the going on", async () => {
    bench.clock.set("2029-01-10T09:00:00.000Z");
    const count = await openCount(bench, scene);
    expect(count.trainCautions.join()).toMatch(/^Used on 2029-01-10 all the same\. .*due on/);
    await handOf(bench, count.id).press();
    await bench.call("counts.pause", { requestId: bench.request(), countId: count.id });
    await outOfService("objective", count.train?.objectiveId ?? "");
    bench.clock.set("2029-01-11T09:00:00.000Z");
    await bench.call("counts.resume", { requestId: bench.request(), countId: count.id });
    const closed = await close(count.id);
    expect(closed.results?.cautions).toEqual([...UTERMOHL_FIELDS.cautions, ...closed.trainCautions]);
    expect(closed.trainCautions).toHaveLength(2);
    expect(closed.trainCautions[1]).toContain("2029-01-11");
    expect(closed.trainCautions[1]).toContain("out of service");
    expect(await differences()).toEqual([]);
    tamper(bench.paths.databaseFile, "UPDATE tally SET train_cautions_json = '[]'");
    expect(JSON.stringify(await differences())).toContain("trainCautions");
  });

  it("is silent about a train with nothing wrong", async () => {
    expect((await openCount(bench, scene)).trainCautions).toEqual([]);
  });
});

describe("a count opened after a failed check that is withdrawn", () => {
  it("says nothing of it any more, unless another one of that day failed too", async () => {
    const trainId = (await openCount(bench, scene)).trainId ?? "";
    const check = (right: string) =>
      bench.call("checks.record", {
        requestId: bench.request(),
        check: {
          trainId,
          stageMicrometerId: scene.micrometer.id,
          certificateId: scene.certificate.id,
          settings: [{ reticleLeft: "0", reticleRight: right, lineLeft: "0", lineRight: "100" }],
          temperature: "",
          remark: "",
        },
      });
    const withdraw = (checkId: string) =>
      bench.call("checks.withdraw", { requestId: bench.request(), checkId, reason: "another objective" });
    const [first, second] = [await check("86.4"), await check("86.3")];
    const count = await openCount(bench, scene);
    const cautions = async () =>
      (await bench.call("counts.state", { countId: count.id })).count.trainCautions.join(" ");
    expect(await cautions()).toContain("failed");
    await withdraw(second.id);
    expect(await cautions()).toContain("failed");
    await withdraw(first.id);
    expect(await cautions()).toBe("");
    expect(await differences()).toEqual([]);
    tamper(
      bench.paths.databaseFile,
      `UPDATE tally SET train_cautions_json = '["none"]' WHERE id = '${count.id}'`,
    );
    expect(JSON.stringify(await differences())).toContain("trainCautions");
  });
});

describe("results that an earlier version froze", () => {
  it("are recomputed by the rule of their day", async () => {
    const count = await openCount(bench, scene);
    const hand = handOf(bench, count.id);
    for (const [at, n] of [4, 1, 6, 2].entries()) {
      if (at > 0) await hand.field();
      await hand.press("diatoms", String(n));
    }
    const { results, inputs, categories } = await close(count.id);
    const state = await bench.call("counts.state", { countId: count.id });
    const calibration = await bench.call("calibrations.get", { calibrationId: count.calibrationId ?? "" });
    const older: CountResults = countResults({
      definition: UTERMOHL_FIELDS,
      categories,
      inputs,
      factor: areaFactor(calibration.result?.factor ?? "", calibration.result?.standardUncertainty),
      fields: state.fields,
      lastFieldCounted: true,
      seconds: state.count.secondsBefore,
      countRule: "clustered-only",
    });
    expect(older.densities[0]?.coverageFactor).toBe("2");
    expect(older.densities[0]?.expanded).not.toBe(results?.densities[0]?.expanded);
    tamper(bench.paths.databaseFile, `UPDATE tally SET results_json = '${JSON.stringify(older)}'`);
    // The trail still tells today's results: that is named, but they are not taken for wrong arithmetic.
    const found = JSON.stringify(await differences());
    expect(found).toContain("as told by the trail");
    expect(found).not.toContain(`count ${count.number}, results`);
  });
});
