import { existsSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { verifyCommand } from "#main/launch/verify-command.ts";
import { stemOf } from "#main/store/bench-file/backup-file-name.ts";
import { buildScene, calibrateTrain, enterLength, type Scene } from "../../support/bench-scenes.ts";
import { tamper, withRawDatabase } from "../../support/raw-database.ts";
import { rewriteTrail } from "../../support/rewritten-trail.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";
import { attach, PNG } from "../../support/traceability-scenes.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
  await calibrateTrain(bench, scene);
  await enterLength(bench, scene, "row-1", "23.0", "51.5");
});
afterEach(() => bench.end());

async function verify(...parameters: string[]): Promise<{ code: number; text: string }> {
  let text = "";
  const code = await verifyCommand(parameters, (more) => {
    text += more;
  });
  return { code, text };
}

it("agrees with a bench that nobody tampered with, beside the program that has it open", async () => {
  const { code, text } = await verify(bench.paths.databaseFile);
  expect(code).toBe(0);
  expect(text).toContain("1 measurement,");
  expect(text).toContain("All agrees.");
});

describe("one digit changed by an outside connection is found and named", () => {
  it.each([
    [
      "a size",
      "UPDATE measurement SET size_um = replace(size_um, '295.6', '203.0')",
      "sheet S-0001, row 1, length, size, value",
    ],
    ["a reading", "UPDATE measurement SET right_typed = '61'", "sheet S-0001, row 1, length, divisions"],
    [
      "the U of a certificate",
      "UPDATE certificate SET expanded_uncertainty = '0.4'",
      "certificate C-1 of SM 1, expandedUncertainty",
    ],
    [
      "the numerical aperture of an objective",
      "UPDATE objective SET numerical_aperture = '0.95' WHERE position = 2",
      "microscope Stand A, objective in position 2, numericalAperture",
    ],
    [
      "a line of the trail",
      "UPDATE audit_line SET at = replace(at, '2026', '2025') WHERE sequence = 3",
      "trail line 3",
    ],
    [
      "the typed setting of a calibration",
      "UPDATE calibration SET settings_json = replace(settings_json, '\"96.4\"', '\"98\"')",
      "factor",
    ],
  ])("%s", async (_, sql, where) => {
    await bench.program.close();
    tamper(bench.paths.databaseFile, sql);
    const { code, text } = await verify(bench.paths.databaseFile);
    expect(code).toBe(1);
    expect(text).toContain(where);
    await bench.reopen();
  });

  it("an attached file", async () => {
    const { sha256 } = await attach(bench, { kind: "certificate", id: scene.certificate.id }, PNG);
    writeFileSync(
      join(bench.paths.dataFolder, "attachments", sha256),
      Buffer.concat([PNG, Buffer.from([0])]),
    );
    const { code, text } = await verify(bench.paths.databaseFile);
    expect(code).toBe(1);
    expect(text).toContain("attachment scan.png of certificate");
  });
});

describe("a file that cannot be verified says why and stays as it is", () => {
  const other = (name: string): string => join(bench.paths.dataFolder, name);

  it("no file named", async () => {
    expect(await verify()).toMatchObject({ code: 2, text: expect.stringContaining("Usage") });
  });

  it("a file that is not there is not made", async () => {
    expect(await verify(other("none.sqlite"))).toMatchObject({
      code: 2,
      text: expect.stringContaining("is not there"),
    });
    expect(existsSync(other("none.sqlite"))).toBe(false);
  });

  it("a text file", async () => {
    writeFileSync(other("diary.txt"), "Dear diary, ".repeat(50));
    expect(await verify(other("diary.txt"))).toMatchObject({
      code: 2,
      text: expect.stringContaining("is not a database"),
    });
  });

  it("a bench of a newer program", async () => {
    await bench.program.close();
    const before = withRawDatabase(bench.paths.databaseFile, (db) =>
      db.pragma("user_version", { simple: true }),
    );
    withRawDatabase(bench.paths.databaseFile, (database) => database.pragma("user_version = 990"));
    expect(await verify(bench.paths.databaseFile)).toMatchObject({
      code: 2,
      text: expect.stringContaining("file version 990"),
    });
    const version = withRawDatabase(bench.paths.databaseFile, (db) =>
      db.pragma("user_version", { simple: true }),
    );
    expect(version).toBe(990);
    withRawDatabase(bench.paths.databaseFile, (db) => db.pragma(`user_version = ${before}`));
  });

  it("a backup is verified where it lies, and nothing is left beside it", async () => {
    const { fileName } = await bench.call("backups.make", { requestId: bench.request() });
    expect(await verify(join(bench.paths.backupFolder, fileName))).toMatchObject({ code: 0 });
    expect(readdirSync(bench.paths.backupFolder)).toEqual([fileName]);
  });
});

describe("a trail whose every hash was made anew by somebody who can write the file", () => {
  it("is given away by the heads that stand in the names of earlier backups, from which line on", async () => {
    const early = await bench.call("backups.make", { requestId: bench.request() });
    await enterLength(bench, scene, "row-2", "41", "61");
    const late = await bench.call("backups.make", { requestId: bench.request() });
    const [first, last] = [early.head?.sequence ?? 0, late.head?.sequence ?? 0];
    expect(last).toBeGreaterThan(first + 1);
    const same = await verify(bench.paths.databaseFile, "--heads", bench.paths.backupFolder);
    expect(same.code).toBe(0);
    expect(same.text).toContain(`History up to line ${last} is the one that was noted elsewhere.`);
    const noted = /The trail ends with line (\d+), ([0-9a-f]{64})\./.exec(same.text) ?? [];

    await bench.program.close();
    rewriteTrail(bench.paths.databaseFile, first + 1);
    const alone = await verify(bench.paths.databaseFile);
    expect(alone.text).not.toContain("trail line");
    const { code, text } = await verify(bench.paths.databaseFile, "--heads", bench.paths.backupFolder);
    expect(code).toBe(1);
    // Closing made the day's copy: the name bears the line all the same.
    expect(text).toContain(`line ${last}: ${stemOf(late.fileName)}.condensed`);
    expect(text).toContain(`History was written anew somewhere from line ${first + 1} to line ${last}.`);
    const byHand = await verify(bench.paths.databaseFile, "--head", `${noted[1]}:${noted[2]?.slice(0, 12)}`);
    expect(byHand.code).toBe(1);
    expect(byHand.text).toContain("what you noted");
    await bench.reopen();
  });

  it.each([["--head", "412"], ["--head", "x:9f86d081"], ["--head"], ["--tail", "1:9f86d081"]])(
    "says how it is used when asked with %s %s",
    async (...options) => {
      const { code, text } = await verify(bench.paths.databaseFile, ...options.filter(Boolean));
      expect(code).toBe(2);
      expect(text).toContain("Usage:");
    },
  );
});
