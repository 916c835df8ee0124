import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { buildScene, calibrateTrain, newCertificate, type Scene } from "../../../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;
let scene: Scene;

beforeEach(async () => {
  bench = await tempBench();
  scene = await buildScene(bench);
});
afterEach(() => bench.end());

async function calibrateOn(day: string, right = "96.4", position = 1) {
  bench.clock.set(`${day}T09:00:00.000Z`);
  return calibrateTrain(bench, scene, { right, position, dueOn: "2030-01-01" });
}

const trainId = (): string => scene.trains[0]?.id ?? "";
const history = () => bench.call("trends.train", { trainId: trainId() });

describe("the history of a train", () => {
  it("of nothing is said to be nothing", async () => {
    const trend = await history();
    expect(trend).toMatchObject({
      points: [],
      baselines: [],
      drift: null,
      reference: null,
      verdict: { kind: "not calibrated" },
      advice: { proposedDays: null, usualDays: null },
    });
    expect(await bench.refusal("trends.train", { trainId: "nobody" })).toMatchObject({
      code: "train.unknown",
      field: "trainId",
    });
  });

  it("keeps superseded factors as points, and withdrawn ones as points that do not count", async () => {
    await calibrateOn("2026-01-10");
    await calibrateOn("2026-02-10", "96.3");
    const last = await calibrateOn("2026-03-10", "96.5");
    await bench.call("calibrations.withdraw", {
      requestId: bench.request(),
      calibrationId: last.id,
      reason: "the slide was upside down",
    });
    const { points, events, baselines, dueOn } = await history();
    expect(points.map(({ date, state, counts }) => [date, state, counts])).toEqual([
      ["2026-01-10", "superseded", true],
      ["2026-02-10", "superseded", true],
      ["2026-03-10", "withdrawn", false],
    ]);
    expect(points.map(({ normalisedError }) => normalisedError === null)).toEqual([true, false, true]);
    expect(events).toMatchObject([{ kind: "withdrawal", breaks: false }]);
    expect(baselines.map(({ kind, n }) => [kind, n])).toEqual([["pair", 2]]);
    expect(dueOn).toBeNull();
  });

  it("begins a new baseline at another certificate and at a service", async () => {
    await calibrateOn("2026-01-10");
    const certificate = await bench.call("certificates.register", {
      requestId: bench.request(),
      certificate: { ...newCertificate(scene.micrometer.id), number: "C-2" },
    });
    scene = { ...scene, certificate };
    await calibrateOn("2026-02-10");
    await bench.call("events.record", {
      requestId: bench.request(),
      event: {
        kind: "serviced",
        subject: { kind: "microscope", id: scene.microscope.id },
        happenedOn: "2026-02-10",
        words: "head cleaned",
      },
    });
    bench.clock.set("2026-03-01T09:00:00.000Z");
    const { events, baselines } = await history();
    expect(events.map(({ kind, words, breaks }) => [kind, words, breaks])).toEqual([
      ["event", "a service: head cleaned", true],
      ["certificate", "a change of certificate to C-2", true],
    ]);
    expect(baselines.map(({ begunBy }) => begunBy)).toEqual([null, "a change of certificate to C-2"]);
  });

  it("is the same line at the bench as on its own screen", async () => {
    await calibrateOn("2026-01-10");
    await calibrateOn("2026-02-10", "90");
    const verdicts = await bench.call("trends.verdicts", {});
    expect(verdicts.find((one) => one.trainId === trainId())?.verdict).toEqual((await history()).verdict);
    expect(verdicts).toHaveLength(scene.trains.length);
  });
});

describe("the factor of a day", () => {
  it("is the one in force then, on the day of a change both", async () => {
    const first = await calibrateOn("2026-01-10");
    const second = await calibrateOn("2026-02-10", "96.3");
    const idsOn = async (day: string) => {
      const [answer] = await bench.call("trends.onDay", { day, trainId: trainId() });
      return answer?.factors.map(({ calibrationId }) => calibrationId);
    };
    expect(await idsOn("2026-01-09")).toEqual([]);
    expect(await idsOn("2026-01-31")).toEqual([first.id]);
    expect(await idsOn("2026-02-10")).toEqual([first.id, second.id]);
    expect(await idsOn("2026-02-11")).toEqual([second.id]);
    const [answer] = await bench.call("trends.onDay", { day: "2031-06-01", trainId: trainId() });
    expect(answer?.factors[0]).toMatchObject({
      certificate: "C-1",
      laboratory: "Invented Length Laboratory",
      cautions: [
        "The calibration had been due on 2030-01-01.",
        "The certificate had been due on 2030-06-01.",
      ],
    });
    expect((await bench.refusal("trends.onDay", { day: "2026-02-30", trainId: null })).code).toBe(
      "input.invalid",
    );
  });
});

describe("the tolerance", () => {
  const decide = (percent: string, reason = "our honey procedure") => ({
    requestId: bench.request(),
    tolerance: { percent, reason },
  });

  it("is a proposal until it is decided, with a line in the trail; a repeated request decides once", async () => {
    expect((await history()).tolerance).toMatchObject({ percent: "2" });
    const input = decide("0,5");
    const decided = await bench.call("trends.setTolerance", input);
    expect(decided.percent).toBe("0.5");
    expect(decided.origin).toMatch(/^Decided on .* by Ada Example: our honey procedure$/);
    await bench.call("trends.setTolerance", input);
    expect((await history()).tolerance).toEqual(decided);
    const trail = await bench.call("trail.page", { before: null, count: 50 });
    expect(trail.filter(({ act }) => act === "trends.setTolerance")).toHaveLength(1);
  });

  it("holds the factor in force against it by the rule named, and verifies", async () => {
    await calibrateOn("2026-01-10");
    await calibrateOn("2026-02-10", "96.3");
    expect((await history()).conformity).toMatchObject({
      conforms: true,
      words: expect.stringContaining("guarded acceptance with w = U (JCGM 106:2012 8.3)"),
    });
    // 96.4/96.3 − 1 is 0.104 %: within 0.11 %, and not by its U.
    await bench.call("trends.setTolerance", decide("0.11"));
    expect((await history()).conformity).toMatchObject({ conforms: false });
    const simple = { ...decide("0.11").tolerance, rule: "simple-acceptance" as const };
    await bench.call("trends.setTolerance", { requestId: bench.request(), tolerance: simple });
    const { conformity, tolerance } = await history();
    expect(tolerance.rule).toBe("simple-acceptance");
    expect(conformity).toMatchObject({ conforms: true, words: expect.stringContaining("simple acceptance") });
    expect((await bench.call("trail.verify", {})).differences).toEqual([]);
  });

  it.each([
    ["0", "must be greater than zero"],
    ["51", "is too large: at most 50"],
    ["a lot", "has a space inside the number"],
    ["", "is empty: type a number"],
  ])("%o is refused at its field", async (percent, reason) => {
    expect(await bench.refusal("trends.setTolerance", decide(percent))).toMatchObject({
      code: "input.invalid",
      field: "tolerance.percent",
      message: expect.stringContaining(reason),
    });
  });
});

describe("side by side", () => {
  it("gives each train of a microscope with its own mean as zero, and says that one alone tells nothing", async () => {
    await calibrateOn("2026-01-10");
    await calibrateOn("2026-02-10", "96.3");
    const view = { view: "microscope" as const, id: scene.microscope.id };
    const { series, findings } = await bench.call("trends.sideBySide", view);
    expect(series).toHaveLength(1);
    const [a, b] = series[0]?.points.map(({ percent }) => Number(percent)) ?? [];
    expect((a ?? 0) + (b ?? 0)).toBeCloseTo(0, 8);
    expect(findings).toMatchObject([{ pointsTo: "nothing" }]);
    for (const [name, code] of [
      ["microscope", "microscope.unknown"],
      ["people", "train.unknown"],
      ["micrometer", "micrometer.unknown"],
    ] as const) {
      expect((await bench.refusal("trends.sideBySide", { view: name, id: "nobody" })).code).toBe(code);
    }
  });

  it("says how far the values of one person and of several lie apart, once somebody made two", async () => {
    const words = async () => {
      const { findings } = await bench.call("trends.sideBySide", { view: "people", id: trainId() });
      return findings.map((one) => one.words);
    };
    await calibrateOn("2026-01-10", "96.4");
    await calibrateOn("2026-01-20", "96.5");
    expect((await words()).join()).not.toContain("within a person");
    const ben = await bench.call("people.register", {
      requestId: bench.request(),
      person: { name: "Ben Example", initials: "BE", interpupillaryMm: "" },
    });
    await bench.call("people.choose", { personId: ben.id });
    await calibrateOn("2026-01-30", "96.2");
    await calibrateOn("2026-02-10", "96.3");
    /*
     * Factors 1000/96.4, 96.5 and 1000/96.2, 96.3 against their mean, in %: s within (0.0732² + 0.0734²)/2, between by
     * (s² of the two means − s² within/2) (ISO 5725-2:1994 7.4: from memory), worked outside the program.
     */
    const said = (await words()).find((one) => one.includes("within a person"));
    expect(said).toBe(
      "Of 4 calibrations by 2 people: s 0.073 % within a person, 0.137 % between people, 0.156 % together. Two by one person differ by more than 0.205 %, two by different people by more than 0.436 % in 1 of 20 cases (ISO 5725-6:1994, 4.1.4).",
    );
  });
});
