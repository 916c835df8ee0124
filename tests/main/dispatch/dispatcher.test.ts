import { appendFileSync, readFileSync, renameSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { calls } from "#core/contract/calls.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { createDispatcher, type Dispatch } from "#main/dispatch/dispatcher.ts";
import { openFaultLog } from "#main/dispatch/fault-log.ts";
import type { Handlers } from "#main/dispatch/handlers.ts";
import { Refusal } from "#main/dispatch/refusals.ts";
import { buildScene } from "../../support/bench-scenes.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { dumpOf } from "../../support/raw-database.ts";
import { type TempBench, type TempFolder, tempBench, tempFolder } from "../../support/temp-bench.ts";

const PERSON = {
  id: "p",
  name: "Ada",
  initials: "",
  interpupillaryMm: null,
  registeredAt: "2026-03-02T09:00:00.000Z",
} as const;

let folder: TempFolder;
beforeEach(() => {
  folder = tempFolder();
});
afterEach(() => folder.remove());

/** A dispatcher whose `people.choose` does as told; no other handler is there. */
function dispatchTo(choose: Handlers["people.choose"]): Dispatch {
  return createDispatcher({
    handlers: { "people.choose": choose } as Handlers,
    faults: openFaultLog(folder.paths.dataFolder, fixedClock()),
  });
}
const faultLog = () => readFileSync(join(folder.paths.dataFolder, "faults.log"), "utf8");

describe("the log of faults", () => {
  it("gives its newest lines first, across the older file, past a torn one", () => {
    const { dataFolder } = folder.paths;
    const older = openFaultLog(dataFolder, fixedClock());
    older.record("sheets.list", new Error("first"));
    renameSync(join(dataFolder, "faults.log"), join(dataFolder, "faults.log.old"));
    appendFileSync(join(dataFolder, "faults.log.old"), '{"number":2,"at":"2026-');
    const log = openFaultLog(dataFolder, fixedClock());
    log.record("rows.enter", new Error("second"));
    log.record("rows.enter", new Error("third"));
    expect(log.newest(10).map(({ where, message }) => `${where} ${message}`)).toEqual([
      "rows.enter third",
      "rows.enter second",
      "sheets.list first",
    ]);
    expect(log.newest(1)).toMatchObject([{ number: expect.stringMatching(/^F-\d{4}$/), message: "third" }]);
    expect(openFaultLog(join(dataFolder, "none"), fixedClock()).newest(5)).toEqual([]);
  });
});

describe("what a handler does becomes a plain reply", () => {
  it("an answer is checked and passed on", async () => {
    expect(await dispatchTo(() => PERSON)("people.choose", { personId: "p" })).toEqual({
      ok: true,
      value: PERSON,
    });
  });

  it("a refusal keeps code, field and hint", async () => {
    const dispatch = dispatchTo(() => {
      throw new Refusal("person.unknown", "Nobody of that name.", {
        field: "personId",
        hint: "Register first.",
      });
    });
    expect(await dispatch("people.choose", { personId: "p" })).toEqual({
      ok: false,
      error: {
        code: "person.unknown",
        message: "Nobody of that name.",
        field: "personId",
        hint: "Register first.",
      },
    });
  });

  it("bad input found by the calculation is bad input", async () => {
    const dispatch = dispatchTo(() => {
      throw new InputError("settings.2.reticleRight", "is empty: type a number");
    });
    expect(await dispatch("people.choose", { personId: "p" })).toEqual({
      ok: false,
      error: { code: "input.invalid", message: "is empty: type a number", field: "settings.2.reticleRight" },
    });
  });

  it.each([
    [
      "an error",
      () => {
        throw new Error("secret path");
      },
    ],
    [
      "a thrown text",
      () => {
        throw "text";
      },
    ],
    ["a rejected promise", () => Promise.reject(new Error("later"))],
    ["an answer of the wrong shape", () => ({ ...PERSON, registeredAt: "yesterday" }) as never],
    [
      "a refusal the contract does not promise for this call",
      () => {
        throw new Refusal("row.struck", "no");
      },
    ],
  ])("%s is a numbered fault that tells nothing of the inside", async (_, choose) => {
    const reply = await dispatchTo(choose)("people.choose", { personId: "p" });
    expect(reply).toMatchObject({ ok: false, error: { code: "fault" } });
    expect(JSON.stringify(reply)).toContain("F-0001");
    expect(JSON.stringify(reply)).not.toContain("secret");
    expect(faultLog()).toContain('"where":"people.choose');
  });

  it("faults are numbered on after the program was started anew, and hold no input", async () => {
    const choose = () => {
      throw new Error("inside");
    };
    await dispatchTo(choose)("people.choose", { personId: "Mallory" });
    const second = await dispatchTo(choose)("people.choose", { personId: "Mallory" });
    expect(JSON.stringify(second)).toContain("F-0002");
    expect(faultLog()).not.toContain("Mallory");
  });

  it("a failure of the machine is told in words", async () => {
    const dispatch = createDispatcher({
      handlers: { "people.choose": () => Promise.reject(new Error("full")) } as unknown as Handlers,
      faults: openFaultLog(folder.paths.dataFolder, fixedClock()),
      translate: () => ({ code: "bench.unwritable", message: "There is no room left.", hint: "Make room." }),
    });
    expect(await dispatch("people.choose", { personId: "p" })).toEqual({
      ok: false,
      error: { code: "bench.unwritable", message: "There is no room left.", hint: "Make room." },
    });
  });
});

describe("a fault tells what is known of the bench", () => {
  /** A dispatcher whose `people.choose` writes so many times before it goes wrong in its own way. */
  function faultAfter(writes: number, end: () => unknown): Promise<unknown> {
    let commits = 5;
    const dispatch = createDispatcher({
      handlers: {
        "people.choose": () => {
          commits += writes;
          return end();
        },
      } as unknown as Handlers,
      faults: openFaultLog(folder.paths.dataFolder, fixedClock()),
      commits: () => commits,
    });
    return dispatch("people.choose", { personId: "p" });
  }
  const wrongAnswer = () => ({ ...PERSON, registeredAt: "yesterday" });
  const fails = () => {
    throw new Error("inside");
  };

  it.each([
    ["a wrong answer after nothing was written", 0, wrongAnswer, "Nothing was changed by this call."],
    ["a failure before anything was written", 0, fails, "Nothing was changed by this call."],
    ["a wrong answer after a write", 1, wrongAnswer, "was done and is stored; only the answer"],
    ["a failure after a write", 1, fails, "may have been done all the same"],
    ["a rejection after a write", 1, () => Promise.reject(new Error("later")), "may have been done all the"],
  ])("%s", async (_, writes, end, words) => {
    expect(await faultAfter(writes, end)).toMatchObject({
      ok: false,
      error: { code: "fault", message: expect.stringContaining(words) },
    });
  });

  it("on a real bench, a person who was stored under an id that cannot be told is not called unchanged", async () => {
    const bench = await tempBench({ ids: { next: () => "" } });
    try {
      const reply = await bench.refusal("people.register", {
        requestId: bench.request(),
        person: { name: "Ada", initials: "AE", interpupillaryMm: "" },
      });
      expect(reply.message).toContain("was done and is stored");
      expect(dumpOf(bench.paths.databaseFile)).toContain('"name":"Ada"');
      const again = await bench.refusal("people.list", {});
      expect(again.message).toContain("Nothing was changed by this call.");
    } finally {
      await bench.end();
    }
  });
});

describe("whatever arrives", () => {
  let bench: TempBench;
  beforeEach(async () => {
    bench = await tempBench();
  });
  afterEach(() => bench.end());

  it.each([
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
    "",
    "rows",
    "rows.enter ",
    "ROWS.ENTER",
  ])("the name “%s” is no call", async (name) => {
    expect(await bench.refusal(name, {})).toMatchObject({ code: "call.unknown" });
  });

  it.each([[undefined], [null], [7], [{}], [["rows.enter"]], [Symbol("x")]])(
    "the name %s is no call",
    async (name) => {
      expect(await bench.refusal(name as string, {})).toMatchObject({ code: "call.unknown" });
    },
  );

  const anyName = fc.oneof(fc.constantFrom(...Object.keys(calls)), fc.string());
  const anyInput = fc.oneof(
    fc.jsonValue({ maxDepth: 4 }),
    fc.anything({
      withBigInt: true,
      withMap: true,
      withNullPrototype: true,
      withSet: true,
      withSparseArray: true,
    }),
  );

  it("is answered with a plain reply, never thrown, and no fault", async () => {
    await fc.assert(
      fc.asyncProperty(anyName, anyInput, async (name, input) => {
        const reply = await bench.program.dispatch(name, input);
        expect(JSON.parse(JSON.stringify(reply))).toEqual(reply);
        if (!reply.ok) expect(reply.error.code).not.toBe("fault");
      }),
      { numRuns: 400 },
    );
  });

  it("changes nothing when it is nearly right: one member of a right input replaced by anything", async () => {
    const scene = await buildScene(bench);
    const right: Record<string, Record<string, unknown>> = {
      "rows.enter": {
        requestId: "press-0001",
        sheetId: scene.sheet.id,
        rowId: "row-1",
        cell: { dimension: "length", edge: "left" },
        typed: "40",
        label: "",
      },
      "calibrations.putInForce": {
        requestId: "press-0002",
        calibrationId: "id-1",
        dueOn: "2027-01-01",
        reason: "yearly",
      },
      "sheets.chooseObjective": {
        requestId: "press-0003",
        sheetId: scene.sheet.id,
        objectiveId: scene.sheet.objectiveId,
      },
    };
    const bent = fc.constantFrom(...Object.keys(right)).chain((name) => {
      const input = right[name] ?? {};
      const wrong = fc.oneof(
        fc.integer(),
        fc.boolean(),
        fc.constant(null),
        fc.array(fc.string()),
        fc.object(),
      );
      return fc
        .tuple(fc.constant(name), fc.constantFrom(...Object.keys(input)), wrong)
        .map(([call, key, value]) => ({
          call,
          input: { ...input, [key]: value },
        }));
    });
    const before = dumpOf(bench.paths.databaseFile);
    await fc.assert(
      fc.asyncProperty(bent, async ({ call, input }) => {
        expect(await bench.refusal(call, input)).toMatchObject({ code: "input.invalid" });
      }),
      { numRuns: 200 },
    );
    expect(dumpOf(bench.paths.databaseFile)).toBe(before);
  });

  it("survives inputs that fight back", async () => {
    const trap = new Proxy(
      {},
      {
        get() {
          throw new Error("got you");
        },
        ownKeys() {
          throw new Error("got you");
        },
      },
    );
    const round: Record<string, unknown> = {};
    round.self = round;
    for (const input of [
      trap,
      round,
      {
        get requestId() {
          throw new Error("got you");
        },
      },
    ]) {
      const reply = await bench.program.dispatch("rows.enter", input);
      expect(reply.ok).toBe(false);
    }
    const polluted = JSON.parse('{"__proto__": {"polluted": true}, "personId": "p"}');
    expect((await bench.program.dispatch("people.choose", polluted)).ok).toBe(false);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it("is refused kindly once the bench is closed", async () => {
    await bench.program.close();
    expect(await bench.refusal("people.list", {})).toMatchObject({ code: "host.lost" });
  });
});

describe("what would make verify cry wolf is refused at the door", () => {
  let bench: TempBench;
  let scene: Awaited<ReturnType<typeof buildScene>>;
  beforeEach(async () => {
    bench = await tempBench();
    scene = await buildScene(bench);
  });
  afterEach(() => bench.end());
  const reading = (rowId: string, label: string) => ({
    requestId: bench.request(),
    sheetId: scene.sheet.id,
    rowId,
    cell: { dimension: "length", edge: "left" },
    typed: "23.0",
    label,
  });

  it("half a character in any text, at its field", async () => {
    const half = String.fromCharCode(0xd83d);
    const error = await bench.refusal("rows.enter", reading("row-1", `Alnus ${half}`));
    expect(error).toMatchObject({ code: "input.invalid", field: "label" });
    expect(
      await bench.refusal("people.register", {
        requestId: bench.request(),
        person: { name: half, initials: "", interpupillaryMm: "" },
      }),
    ).toMatchObject({ code: "input.invalid", field: "person.name" });
    await bench.call("rows.enter", reading("row-1", "Alnus 🌳") as never);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it("a row under the identifier of another record", async () => {
    for (const id of [scene.sheet.id, scene.microscope.id, scene.personId]) {
      const error = await bench.refusal("rows.enter", reading(id, "Alnus"));
      expect(error).toMatchObject({ code: "input.invalid", field: "rowId" });
    }
    await bench.call("rows.enter", reading("row-1", "Alnus") as never);
    await bench.call("rows.undo", { requestId: bench.request(), sheetId: scene.sheet.id } as never);
    await bench.call("rows.enter", reading("row-1", "Alnus") as never);
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });
});
