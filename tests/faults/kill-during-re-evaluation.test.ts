import { randomInt } from "node:crypto";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";
import { withRawDatabase } from "../support/raw-database.ts";
import type { TempBench } from "../support/temp-bench.ts";
import { correctCertificate, type Story, tellStory } from "../support/traceability-scenes.ts";

const KILLS = 4;
const LONGEST_LIFE_MS = 40;
const PATIENCE_MS = 600_000 * Math.max(1, KILLS / 20);

let program: LoopbackProgram;
let session: LoopbackSession;
let story: Story;
let requests = 0;

/** The bench as its own tests know it, through the program in its own process. */
const bench = (): TempBench =>
  ({ call: session.call, request: () => `kill-request-${++requests}` }) as TempBench;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  story = await tellStory(bench());
}, PATIENCE_MS);
afterAll(() => program.stop());

const status = (reevaluationId: string): Promise<Reevaluation> =>
  session.call("reevaluations.status", { reevaluationId });

it(
  "is found again after each kill, every result either as it was or converted with the old one kept, and is finished",
  async () => {
    const corrected = await correctCertificate(bench(), story.scene);
    const begun = await session.call("reevaluations.begin", {
      requestId: "begin-request-1",
      reevaluation: {
        subject: { kind: "certificate", id: story.scene.certificate.id },
        from: null,
        to: null,
        sheetIds: null,
        replacement: { kind: "certificate", certificateId: corrected.id },
        reason: "the certificate was corrected",
      },
    });
    for (let kill = 1; kill <= KILLS; kill += 1) {
      await wait(randomInt(0, LONGEST_LIFE_MS));
      await program.kill9();
      await program.restart();
      session = await enterLoopback(program.address);
      const found = await status(begun.id);
      expect(found.state).not.toBe("running");
      expect((await session.call("trail.verify", {})).differences).toEqual([]);
      if (found.state === "stopped") await session.call("reevaluations.resume", { reevaluationId: begun.id });
    }
    let last = await status(begun.id);
    while (last.state === "running") {
      await wait(20);
      last = await status(begun.id);
    }
    expect(last).toMatchObject({ state: "finished", total: 300, done: 300 });
    const report = await session.call("trail.verify", {});
    expect(report).toMatchObject({ supersededResults: 300, differences: [] });
    const { databasePath } = await session.call("bench.status", {});
    const twice = withRawDatabase(databasePath, (database) =>
      database
        .prepare(
          "SELECT count(*) FROM (SELECT row_id FROM superseded_measurement GROUP BY row_id HAVING count(*) > 1)",
        )
        .pluck()
        .get(),
    );
    expect(twice).toBe(0);
    lostNothing(
      "killed while results are re-evaluated",
      KILLS,
      "300 results converted once each, the old ones kept",
    );
  },
  PATIENCE_MS,
);
