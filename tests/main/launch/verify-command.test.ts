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
      "certificate C-1 of SM 1, as told by trail line 5, expandedUncertainty",
    ],
    [
      "the numerical aperture of an objective",
      "UPDATE objective SET numerical_aperture = '0.95' WHERE position = 2",
      "microscope Stand A, objective in position 2, numericalAperture",
    ],
    ["a line of the trail", "UPDATE audit_line SET at = at - 31536000000 WHERE sequence = 3", "trail line 3"],
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

describe("a run that goes on from a line that was followed to before", () => {
  const headNow = async (): Promise<[number, string]> => {
    const [sequence = "", hash = ""] = String(await bench.call("trail.head", {})).split(":");
    return [Number(sequence), hash];
  };

  it("reads what follows and every record, and says what it takes for granted", async () => {
    const [line, hash] = await headNow();
    await enterLength(bench, scene, "row-2", "41", "61");
    const [last] = await headNow();
    const { code, text } = await verify(bench.paths.databaseFile, "--from", `${line}:${hash}`);
    expect(code).toBe(0);
    expect(text).toContain(`${last - line} lines of the trail, 2 measurements`);
    expect(text).toContain(`Lines 1 to ${line} were not hashed again.`);
    expect(text).toContain("what was read before was true then");
    expect(text).not.toContain("All agrees.");
  });

  it("finds what was changed after it, and records changed before it", async () => {
    const [line, hash] = await headNow();
    await enterLength(bench, scene, "row-2", "41", "61");
    await bench.program.close();
    tamper(
      bench.paths.databaseFile,
      `UPDATE audit_line SET at = at - 31536000000 WHERE sequence = ${line + 1}`,
    );
    tamper(bench.paths.databaseFile, "UPDATE measurement SET size_shown = '203.0'");
    const { code, text } = await verify(bench.paths.databaseFile, "--from", `${line}:${hash.slice(0, 12)}`);
    expect(code).toBe(1);
    expect(text).toContain(`trail line ${line + 1}, rows.enter`);
    expect(text).toContain("sheet S-0001, row 1, length, size, shownValue");
    await bench.reopen();
  });

  it("reads all when the trail has another line there, and names it", async () => {
    const [line] = await headNow();
    const { code, text } = await verify(bench.paths.databaseFile, "--from", `${line}:${"0".repeat(64)}`);
    expect(code).toBe(1);
    expect(text).toContain(`DIFFERS  trail, line ${line}: the run to go on from`);
    expect(text).toContain(`${line} lines of the trail`);
    expect(text).not.toContain("were not hashed again");
  });

  it("says when it is stopped that nothing is said of the rest, and names a line only when it came to one", async () => {
    const stop = new AbortController();
    stop.abort(new Error("stopped"));
    let text = "";
    const write = (more: string): void => {
      text += more;
    };
    expect(await verifyCommand([bench.paths.databaseFile], write, stop.signal)).toBe(2);
    expect(text).toContain("nothing is said about what was not read");
    const [line, hash] = await headNow();
    expect(text).toContain(`--from ${line}:${hash}`);
    expect(text).not.toContain("agrees.");
  });
});
