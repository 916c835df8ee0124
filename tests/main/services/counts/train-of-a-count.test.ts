import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CallInput } from "#core/contract/calls.ts";
import type { Tally } from "#core/contract/records/tally.ts";
import type { TallyResults } from "#core/contract/records/tally-results.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { tallyResults } from "#core/counting/results/tally-results.ts";
import { buildScene, calibrateTrain, type Scene } from "../../../support/bench-scenes.ts";
import { areaFactor } from "../../../support/count-grounds.ts";
import { tamper } from "../../../support/raw-database.ts";
import { handOf, openTally } from "../../../support/tally-scene.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
});
afterEach(() => bench.end());

const close = (tallyId: string): Promise<Tally> =>
  bench.call("tallies.close", { requestId: bench.request(), tallyId, lastFieldCounted: true });
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
    const tally = await openTally(bench, scene);
    const { train } = tally;
    if (!train) throw new Error("a count by fields has a train");
    await outOfService(kind, train[field]);
    const { sample, note, countMethodId, categories, inputs, batch } = tally;
    expect(
      await bench.refusal("tallies.open", {
        requestId: bench.request(),
        position: null,
        tally: { sample, note, countMethodId, train, categories, inputs, batch },
      }),
    ).toMatchObject({ code: "item.out-of-service", field: `tally.train.${field}` });
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
    const tally = await openTally(bench, scene);
    expect(tally.trainCautions.join()).toMatch(/^Used on 2029-01-10 all the same\. .*due on/);
    await handOf(bench, tally.id).press();
    await bench.call("tallies.pause", { requestId: bench.request(), tallyId: tally.id });
    await outOfService("objective", tally.train?.objectiveId ?? "");
    bench.clock.set("2029-01-11T09:00:00.000Z");
    await bench.call("tallies.resume", { requestId: bench.request(), tallyId: tally.id });
    const closed = await close(tally.id);
    expect(closed.results?.cautions).toEqual([...UTERMOHL_FIELDS.cautions, ...closed.trainCautions]);
    expect(closed.trainCautions).toHaveLength(2);
    expect(closed.trainCautions[1]).toContain("2029-01-11");
    expect(closed.trainCautions[1]).toContain("out of service");
    expect(await differences()).toEqual([]);
    tamper(bench.paths.databaseFile, "UPDATE tally SET train_cautions_json = '[]'");
    expect(JSON.stringify(await differences())).toContain("trainCautions");
  });

  it("is silent about a train with nothing wrong", async () => {
    expect((await openTally(bench, scene)).trainCautions).toEqual([]);
  });
});

describe("a count opened after a failed check that is withdrawn", () => {
  it("says nothing of it any more, unless another one of that day failed too", async () => {
    const trainId = (await openTally(bench, scene)).trainId ?? "";
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
    const tally = await openTally(bench, scene);
    const cautions = async () =>
      (await bench.call("tallies.state", { tallyId: tally.id })).tally.trainCautions.join(" ");
    expect(await cautions()).toContain("failed");
    await withdraw(second.id);
    expect(await cautions()).toContain("failed");
    await withdraw(first.id);
    expect(await cautions()).toBe("");
    expect(await differences()).toEqual([]);
    tamper(
      bench.paths.databaseFile,
      `UPDATE tally SET train_cautions_json = '["none"]' WHERE id = '${tally.id}'`,
    );
    expect(JSON.stringify(await differences())).toContain("trainCautions");
  });
});

describe("results that an earlier version froze", () => {
  it("are recomputed by the rule of their day", async () => {
    const tally = await openTally(bench, scene);
    const hand = handOf(bench, tally.id);
    for (const [at, count] of [4, 1, 6, 2].entries()) {
      if (at > 0) await hand.field();
      await hand.press("diatoms", String(count));
    }
    const { results, inputs, categories } = await close(tally.id);
    const state = await bench.call("tallies.state", { tallyId: tally.id });
    const calibration = await bench.call("calibrations.get", { calibrationId: tally.calibrationId ?? "" });
    const older: TallyResults = tallyResults({
      definition: UTERMOHL_FIELDS,
      categories,
      inputs,
      factor: areaFactor(calibration.result?.factor ?? "", calibration.result?.standardUncertainty),
      fields: state.fields,
      lastFieldCounted: true,
      seconds: state.tally.secondsBefore,
      countRule: "clustered-only",
    });
    expect(older.densities[0]?.coverageFactor).toBe("2");
    expect(older.densities[0]?.expanded).not.toBe(results?.densities[0]?.expanded);
    tamper(bench.paths.databaseFile, `UPDATE tally SET results_json = '${JSON.stringify(older)}'`);
    // The trail still tells today's results: that is named, but they are not taken for wrong arithmetic.
    const found = JSON.stringify(await differences());
    expect(found).toContain("as told by the trail");
    expect(found).not.toContain(`count ${tally.number}, results`);
  });
});
