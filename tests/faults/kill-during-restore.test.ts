import { randomInt } from "node:crypto";
import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, it } from "vitest";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../support/bench-scenes.ts";
import { lostNothing } from "../support/fault-record.ts";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { CallRefused, enterLoopback, type LoopbackSession } from "../support/loopback-session.ts";
import type { TempBench } from "../support/temp-bench.ts";

const KILLS = 8;
/** A restore on a small bench takes about that long, its check in a process of its own included. */
const LONGEST_LIFE_MS = 900;
const PATIENCE_MS = 60_000 + KILLS * 20_000;

let program: LoopbackProgram;
let session: LoopbackSession;
let scene: Scene;
let requests = 0;
const bench = () =>
  ({
    call: session.call,
    request: () => `restore-request-${String(++requests).padStart(5, "0")}`,
  }) as TempBench;

beforeAll(async () => {
  program = await startLoopbackProgram();
  session = await enterLoopback(program.address);
  scene = await buildScene(bench());
  await calibrateTrain(bench(), scene, { dueOn: "2099-01-01" });
}, 120_000);
afterAll(() => program.stop());

async function rowsThere(): Promise<number> {
  return (await session.call("rows.page", { sheetId: scene.sheet.id, from: 1, count: 1 })).total;
}

it(
  `after each of ${KILLS} kills the bench opens without a question, as it was or as the backup was, and is whole`,
  async () => {
    let asBackup = 0;
    let told = 0;
    await enterLength(bench(), scene, "row-0", "40", "60");
    const { fileName } = await session.call("backups.make", { requestId: bench().request() });
    const inBackup = await rowsThere();
    for (let kill = 1; kill <= KILLS; kill += 1) {
      await enterLength(bench(), scene, `row-${kill}`, "40", "60");
      const before = await rowsThere();
      expect(before).toBeGreaterThan(inBackup);
      const restoring = session
        .call("backups.restore", { requestId: bench().request(), fileName, reason: `kill ${kill}` })
        .catch((error: unknown) => error);
      await wait(randomInt(0, LONGEST_LIFE_MS));
      await program.kill9();
      const ended = await restoring;
      if (ended instanceof CallRefused) throw ended;
      const wasTold = typeof ended === "object" && ended !== null && "keptAside" in ended;
      if (wasTold) told += 1;
      await program.restart();
      session = await enterLoopback(program.address);
      const after = await rowsThere();
      expect(wasTold ? [inBackup] : [before, inBackup]).toContain(after);
      if (after === inBackup) asBackup += 1;
      expect((await session.call("trail.verify", {})).differences).toEqual([]);
      // The copy that was chosen is there as it was, and can be chosen again.
      const copies = await session.call("backups.list", {});
      expect(copies.map((one) => one.fileName)).toContain(fileName);
      const lines = await session.call("trail.page", { before: null, count: 500 });
      const restores = lines.filter(
        ({ act, reason }) => act === "backups.restore" && reason === `kill ${kill}`,
      );
      expect(restores).toHaveLength(after === inBackup ? 1 : 0);
    }
    lostNothing(
      "killed while a backup is being restored",
      KILLS,
      `${asBackup} became the backup (${told} acknowledged), ${KILLS - asBackup} stayed as they were`,
    );
  },
  PATIENCE_MS,
);
