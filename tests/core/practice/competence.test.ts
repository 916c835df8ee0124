import { describe, expect, it } from "vitest";
import {
  competenceOn,
  isProvenAt,
  lastDayOf,
  proofOf,
  type ScoredAttempt,
} from "#core/practice/competence.ts";
import { monthsAfter } from "#core/trends/civil-day.ts";

const attempt = (over: Partial<ScoredAttempt> = {}): ScoredAttempt => ({
  attemptId: "one",
  met: true,
  endedAt: "2026-01-31T10:00:00.000Z",
  months: 12,
  signedAt: null,
  withdrawnAt: null,
  ...over,
});

describe("months after a day", () => {
  it.each([
    ["2026-01-31", 1, "2026-02-28"],
    ["2027-08-31", 6, "2028-02-29"],
    ["2026-03-15", 12, "2027-03-15"],
    ["2026-12-01", 1, "2027-01-01"],
    ["2026-01-31", 120, "2036-01-31"],
  ])("%s and %d months is %s", (day, months, then) => {
    expect(monthsAfter(day, months)).toBe(then);
  });
});

describe("a proof", () => {
  it("is a met attempt, until its months are over; one not met proves nothing", () => {
    expect(lastDayOf(attempt({ months: 1 }))).toBe("2026-02-28");
    expect(lastDayOf(attempt({ met: false }))).toBeNull();
    expect(proofOf(attempt({ met: false }), false)).toBeNull();
  });

  it("holds from its end to the last instant of its last day, and not before", () => {
    const proof = proofOf(attempt({ months: 1 }), false);
    if (!proof) throw new Error("no proof");
    expect(isProvenAt([proof], "2026-01-31T09:59:59.999Z")).toBe(false);
    expect(isProvenAt([proof], "2026-01-31T10:00:00.000Z")).toBe(true);
    expect(isProvenAt([proof], "2026-02-28T23:59:59.999Z")).toBe(true);
    expect(isProvenAt([proof], "2026-03-01T00:00:00.000Z")).toBe(false);
  });

  it("waits for the examiner where the laboratory asks for one, and lasts no longer for it", () => {
    expect(proofOf(attempt(), true)).toBeNull();
    const signed = proofOf(attempt({ signedAt: "2026-05-02T08:00:00.000Z" }), true);
    expect(signed).toMatchObject({ from: "2026-05-02T08:00:00.000Z", until: "2027-01-31" });
  });
});

describe("a withdrawn certificate", () => {
  const taken = attempt({ signedAt: "2026-02-01T08:00:00.000Z", withdrawnAt: "2026-06-01T08:00:00.000Z" });

  it.each([true, false])(
    "ends the proof at that instant, also where none is asked for: %s",
    (bySignature) => {
      const proof = proofOf(taken, bySignature);
      if (!proof) throw new Error("no proof");
      expect(isProvenAt([proof], "2026-06-01T07:59:59.999Z")).toBe(true);
      expect(isProvenAt([proof], "2026-06-01T08:00:00.000Z")).toBe(false);
      expect(competenceOn("2026-06-01", [taken], bySignature)).toEqual({
        state: "withdrawn",
        until: "2027-01-31",
        attemptId: "one",
      });
      expect(competenceOn("2027-02-01", [taken], bySignature)).toMatchObject({ state: "not proven" });
    },
  );

  it("takes nothing from another attempt that is proven", () => {
    const other = attempt({ attemptId: "other", endedAt: "2026-01-15T10:00:00.000Z" });
    expect(competenceOn("2026-06-02", [taken, other], false)).toMatchObject({
      state: "proven",
      attemptId: "other",
    });
    expect(competenceOn("2026-06-02", [taken, other], true)).toMatchObject({
      state: "awaits an examiner",
      attemptId: "other",
    });
  });
});

describe("where a person stands", () => {
  const failed = attempt({ attemptId: "two", met: false, endedAt: "2026-04-01T10:00:00.000Z" });

  it("is by the proof that lasts longest; a later attempt that failed takes nothing away", () => {
    const older = attempt({ attemptId: "old", endedAt: "2025-12-01T10:00:00.000Z" });
    expect(competenceOn("2027-01-31", [failed, attempt(), older], false)).toEqual({
      state: "proven",
      until: "2027-01-31",
      attemptId: "one",
    });
    expect(competenceOn("2027-02-01", [failed, attempt()], false)).toMatchObject({
      state: "lapsed",
      attemptId: "one",
    });
  });

  it("without a met attempt is not proven, and names the newest attempt", () => {
    expect(competenceOn("2026-06-01", [], false)).toEqual({
      state: "not proven",
      until: null,
      attemptId: null,
    });
    expect(competenceOn("2026-06-01", [failed], false)).toMatchObject({
      state: "not proven",
      attemptId: "two",
    });
  });

  it("with an unsigned met attempt awaits an examiner where one is asked for, until that attempt is too old", () => {
    expect(competenceOn("2026-06-01", [attempt()], true)).toMatchObject({
      state: "awaits an examiner",
      until: "2027-01-31",
    });
    expect(competenceOn("2027-06-01", [attempt()], true)).toMatchObject({ state: "not proven" });
    const signed = attempt({
      attemptId: "signed",
      endedAt: "2024-01-01T10:00:00.000Z",
      signedAt: "2024-01-02T10:00:00.000Z",
    });
    expect(competenceOn("2026-06-01", [signed], true)).toMatchObject({
      state: "lapsed",
      attemptId: "signed",
    });
    expect(competenceOn("2026-06-01", [attempt(), signed], true)).toMatchObject({
      state: "awaits an examiner",
    });
  });
});
