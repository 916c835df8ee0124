import { describe, expect, it } from "vitest";
import { firstSteps } from "#renderer/screens/bench/first-steps.ts";
import { jobsOfToday, MOST_CALIBRATION_JOBS } from "#renderer/screens/bench/jobs.ts";
import { groupTrains, turretPlaces } from "#renderer/screens/bench/turret.ts";
import { overviewOf, sheet, stand, trainsOf } from "./bench-fixture.ts";

const bench = (microscope: ReturnType<typeof stand>, ...states: Parameters<typeof trainsOf>[1][number][]) =>
  overviewOf([{ microscope, trains: trainsOf(microscope, states) }]);

describe("what needs doing today", () => {
  it("puts the heaviest first and leaves out what is ready", () => {
    const overview = bench(
      stand("Stand A", [1, 2, 3, 4, 5]),
      "due soon",
      "ready",
      "not calibrated",
      "certificate overdue",
      "calibration overdue",
    );
    expect(jobsOfToday(overview, []).jobs.map((job) => job.words)).toEqual([
      "Calibrate 40×/0.25 on Stand A",
      "Calibrate 50×/0.25 on Stand A",
      "Calibrate 30×/0.25 on Stand A",
      "Calibrate 10×/0.25 on Stand A",
      "Open a new sheet",
    ]);
  });

  it("goes to the train it names", () => {
    const [job] = jobsOfToday(bench(stand("A", [2]), "not calibrated"), []).jobs;
    expect(job?.go).toEqual({ screen: "calibrate", trainId: "A-o2-A-e1", calibrationId: null });
  });

  it("leads from a factor on a replaced certificate to what that touched, where no check would help", () => {
    const microscope = stand("A", [2]);
    const trains = trainsOf(microscope, ["check before use"]).map((one) => ({
      ...one,
      replacedCertificateId: "c-1",
    }));
    const [job] = jobsOfToday(overviewOf([{ microscope, trains }]), []).jobs;
    expect(job?.words).toBe("Re-evaluate 20×/0.25 on A");
    expect(job?.go).toEqual({ screen: "trace", result: null, subject: { kind: "certificate", id: "c-1" } });
  });

  it("tells trains of one objective apart by their eyepiece", () => {
    const { jobs } = jobsOfToday(bench(stand("A", [1], 2), "not calibrated"), []);
    expect(jobs[0]?.why).toBe("Eyepiece E1. invented");
    expect(jobs[1]?.why).toBe("Eyepiece E2. invented");
  });

  it("offers the newest sheet before a new one", () => {
    const { jobs } = jobsOfToday(bench(stand("A", [1]), "ready"), [sheet("S-0002", 1), sheet("S-0001", 5)]);
    expect(jobs.map((job) => [job.words, job.why])).toEqual([
      ["Continue sheet S-0002", "Heather honey (invented), 1 row so far"],
      ["Open a new sheet", "One sample, one method."],
    ]);
  });

  it("never lists more jobs than there are number keys, and counts the rest", () => {
    const microscope = stand("A", [1, 2, 3, 4, 5, 6], 2);
    const { jobs, more } = jobsOfToday(bench(microscope, "not calibrated"), [sheet("S-0001", 2)]);
    expect(jobs).toHaveLength(9);
    expect(more).toBe(12 - MOST_CALIBRATION_JOBS);
  });
});

describe("the first calibration", () => {
  const doneOf = (overview: Parameters<typeof firstSteps>[0]) =>
    firstSteps(overview, "sm-1").map((step) => step.done);

  it("begins with nothing done", () => {
    expect(doneOf(overviewOf([]))).toEqual([false, false, false, false, false]);
  });

  it("ticks off what the bench has", () => {
    const microscope = stand("A", [1]);
    const trains = trainsOf(microscope, ["not calibrated"]);
    const counts = { stageMicrometers: 1, certificates: 1, methods: 1 };
    expect(doneOf(overviewOf([{ microscope, trains }], counts))).toEqual([true, true, true, false, false]);
  });

  it("enters the certificate of the micrometer that is there", () => {
    const step = firstSteps(overviewOf([]), "sm-1").find((one) => one.key === "certificate");
    expect(step?.go).toMatchObject({ recordId: "sm-1", form: "certificate" });
  });
});

describe("a turret", () => {
  it("shows every place up to the last objective, at least three, empty ones too", () => {
    expect(turretPlaces(stand("A", [4, 2]).objectives).map((one) => one?.position ?? null)).toEqual([
      null,
      2,
      null,
      4,
    ]);
    expect(turretPlaces([])).toEqual([null, null, null]);
  });

  it("keeps the trains of each eyepiece together", () => {
    const groups = groupTrains(trainsOf(stand("A", [1, 2], 2), ["ready"]));
    expect(groups.map((group) => group.map((one) => one.train.id))).toEqual([
      ["A-o1-A-e1", "A-o2-A-e1"],
      ["A-o1-A-e2", "A-o2-A-e2"],
    ]);
  });
});
