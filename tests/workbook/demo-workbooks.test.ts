import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { assemble } from "#main/assemble.ts";
import { buildDemoBench } from "#main/demo/build-demo.ts";
import type { Program } from "#main/program.ts";
import { workbookOf } from "../support/finished-export.ts";
import { countedIds, fixedClock } from "../support/fixed-clock.ts";
import { type TempFolder, tempFolder } from "../support/temp-bench.ts";
import { disagreements, errorsIn } from "./compare-books.ts";
import { allRecalculated, readBook } from "./other-programs.ts";

describe("the workbooks of a bench that has been used for months", () => {
  let folder: TempFolder;
  let program: Program;

  async function call<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>> {
    const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
    if (!reply.ok) throw new Error(`${name}: ${JSON.stringify(reply.error)}`);
    return reply.value;
  }

  beforeAll(async () => {
    folder = tempFolder();
    await buildDemoBench(folder.paths, { today: "2026-06-15" });
    program = await assemble({
      paths: folder.paths,
      clock: fixedClock("2026-06-15T12:00:00.000Z"),
      ids: countedIds("later"),
      host: "loopback",
      programVersion: "0.0.0-test",
      demo: true,
    });
  }, 120_000);
  afterAll(async () => {
    await program.close();
    folder.remove();
  });

  it("agree with LibreOffice on every formula of every sheet, through changed objectives and missing factors", async () => {
    const sheets = await call("sheets.list", {});
    expect(sheets.length).toBeGreaterThanOrEqual(5);
    const paths: string[] = [];
    for (const sheet of sheets) {
      const file = await workbookOf({ call }, sheet.id);
      paths.push(file?.path ?? "");
    }
    const copies = allRecalculated(paths);
    sheets.forEach((sheet, i) => {
      const theirs = readBook(copies[i] ?? "");
      expect(disagreements(readBook(paths[i] ?? ""), theirs), sheet.sample).toEqual([]);
      expect(errorsIn(theirs), sheet.sample).toEqual([]);
    });
  }, 240_000);
});
