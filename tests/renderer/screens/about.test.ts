import { describe, expect, it } from "vitest";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { shownBytes } from "#renderer/parts/bench-words/bytes.ts";
import { asPercent, toFour } from "#renderer/parts/bench-words/figures.ts";
import { faultReportText } from "#renderer/screens/about/FaultReport.tsx";
import { runInChunks } from "#renderer/screens/about/run-in-chunks.ts";

const cases: readonly ReferenceCase[] = Array.from({ length: 10 }, (_, index) => ({
  id: `invented-${index}`,
  source: "invented",
  standing: "golden",
  what: "a number",
  expected: "1",
  tolerance: "exact",
  got: () => (index === 3 ? 2 : 1),
}));

describe("the self-test in the window", () => {
  /** A clock on which every look takes a third of the budget below. */
  function slowClock() {
    let time = 0;
    return () => {
      time += 10;
      return time;
    };
  }

  it("runs every case, as many at a time as the budget allows, and counts what disagrees", async () => {
    const seen: number[] = [];
    let breaths = 0;
    let disagreeing: string[] = [];
    await runInChunks(cases, {
      budget: 30,
      now: slowClock(),
      yieldToEvents: async () => {
        breaths += 1;
      },
      onProgress: (rows) => {
        seen.push(rows.length);
        disagreeing = rows.filter((row) => !row.agrees).map((row) => row.id);
      },
      signal: new AbortController().signal,
    });
    expect(seen).toEqual([3, 6, 9, 10]);
    expect(breaths).toBe(4);
    expect(disagreeing).toEqual(["invented-3"]);
  });

  it("stops when it is told to", async () => {
    const controller = new AbortController();
    const seen: number[] = [];
    await runInChunks(cases, {
      budget: 30,
      now: slowClock(),
      yieldToEvents: async () => controller.abort(),
      onProgress: (rows) => seen.push(rows.length),
      signal: controller.signal,
    });
    expect(seen).toEqual([3]);
  });
});

describe("figures of a record", () => {
  it.each([
    ["0.0061005547", "0.006101"],
    ["14.2", "14.2"],
    ["123456", "123500"],
    ["0", "0"],
  ])("%s to four digits is %s", (stored, shown) => {
    expect(toFour(stored)).toBe(shown);
  });

  it("writes shares and sizes of files for people", () => {
    expect(asPercent("0.20867")).toBe("20.9 %");
    expect([shownBytes(999), shownBytes(48_211), shownBytes(1_234_567)]).toEqual([
      "999 B",
      "48 kB",
      "1.2 MB",
    ]);
  });
});

describe("the fault report", () => {
  const program = { name: "Linefall", version: "0.2.0", host: "electron" } as const;

  it("names program, system and faults, and no folder of the machine", () => {
    const text = faultReportText(program, "Engine 1.0 (X11)", [
      {
        number: "F-0007",
        at: "2026-03-02T09:00:00.000Z",
        where: "rows.enter",
        message: "ENOENT: no such file, open '/home/ann lee/bench/x.sqlite'",
        stack: [
          "Error: ENOENT",
          "    at enter (file:///home/ann/linefall/src-main/services/rows.ts:3:4)",
          "    at Object.open (C:\\\\Users\\\\ann\\\\linefall\\\\out\\\\main\\\\a.js:1:2)".replaceAll(
            "\\\\",
            "\\",
          ),
          "    at node:internal/process/task_queues:95:5",
          "    at /home/ann/elsewhere/b.js:1:1",
        ].join("\n"),
      },
    ]);
    expect(text).toContain("Linefall 0.2.0, electron\nEngine 1.0 (X11)\n1 fault, the newest first");
    expect(text).toContain("F-0007 2026-03-02T09:00:00.000Z in rows.enter: ENOENT");
    expect(text).toContain("at enter (src-main/services/rows.ts:3:4)");
    expect(text).toContain("at node:internal/process/task_queues:95:5");
    expect(text).not.toMatch(/ann|home|Users/);
  });

  it("says that there is none", () => {
    expect(faultReportText(program, "Engine", [])).toContain("0 faults");
  });
});
