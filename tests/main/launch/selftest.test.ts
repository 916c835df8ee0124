import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { selftestCommand } from "#main/launch/selftest-command.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));

function caseOf(id: string, expected: string, got: ReferenceCase["got"]): ReferenceCase {
  return {
    id,
    source: "invented inputs",
    standing: "golden",
    what: `planted ${id}`,
    expected,
    tolerance: "0.01",
    got,
  };
}

function run(cases: readonly ReferenceCase[]): { readonly code: 0 | 1; readonly text: string } {
  let text = "";
  const code = selftestCommand(cases, (written) => {
    text += written;
  });
  return { code, text };
}

describe("npm run selftest", () => {
  it("prints one aligned line per case and counts them", () => {
    const { code, text } = run([
      caseOf("short", "1", () => 1),
      caseOf("a-longer-name", "22.5", () => 22.501),
    ]);
    const lines = text.split("\n");
    expect(code).toBe(0);
    expect(lines[0]).toMatch(/^case +standing +source +expected +got +agrees$/);
    const column = lines[0]?.indexOf("expected") ?? -1;
    expect(lines[1]?.slice(column)).toMatch(/^1 +1 +yes$/);
    expect(lines[2]?.slice(column)).toMatch(/^22\.5 +22\.501 +yes$/);
    expect(text).toContain("golden 2\n2 cases: 2 agree, 0 disagree");
  });

  it("cuts a long source, never its standing, and counts the cases of each standing", () => {
    const long = {
      ...caseOf("long", "1", () => 1),
      source: "word ".repeat(60),
      standing: "common practice",
    } as const;
    const { text } = run([long, caseOf("short", "1", () => 1)]);
    expect(text.split("\n")[1]).toMatch(/^long +common practice +word .*… +1 +1 +yes$/);
    expect(text).toMatch(/^golden 1, common practice 1$/m);
  });

  it("exits with 1 when a planted case is wrong, and says which and by how much", () => {
    const { code, text } = run([caseOf("right", "1", () => 1), caseOf("wrong", "1", () => 1.02)]);
    expect(code).toBe(1);
    expect(text).toMatch(/^wrong .* NO$/m);
    expect(text).toContain(
      "wrong: planted wrong\n  source    invented inputs [golden]\n  expected  1\n  got       1.02",
    );
    expect(text).toContain("2 cases: 1 agree, 1 disagree");
  });

  it("exits with 1 when a case throws, and when there is nothing to check", () => {
    const thrown = run([
      caseOf("throws", "1", () => {
        throw new Error("no certificate");
      }),
    ]);
    expect(thrown.code).toBe(1);
    expect(thrown.text).toContain("no value: no certificate");
    expect(run([]).code).toBe(1);
  });

  it("runs as a program and ends with the code of its count line", () => {
    const ended = spawnSync(process.execPath, ["src-main/launch/selftest.ts"], {
      cwd: root,
      encoding: "utf8",
    });
    const counts = /^(\d+) cases: (\d+) agree, (\d+) disagree$/m.exec(ended.stdout);
    expect(ended.stderr).toBe("");
    expect(Number(counts?.[1])).toBeGreaterThan(500);
    expect(ended.status).toBe(counts?.[3] === "0" ? 0 : 1);
  });
});
