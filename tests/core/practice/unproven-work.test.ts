import { describe, expect, it } from "vitest";
import {
  type AskedPractice,
  type AttemptOf,
  unprovenWords,
  unprovenWork,
} from "#core/practice/unproven-work.ts";

const asked = (over: Partial<AskedPractice> = {}): AskedPractice => ({
  from: "2026-03-01T08:00:00.000Z",
  exercises: ["tenths"],
  practiceBySignature: false,
  ...over,
});
const met = (over: Partial<AttemptOf> = {}): AttemptOf => ({
  attemptId: "a",
  personId: "ada",
  exercise: "tenths",
  met: true,
  endedAt: "2026-03-03T12:00:00.000Z",
  months: 1,
  signedAt: null,
  withdrawnAt: null,
  ...over,
});
const day = (date: string, first = "09:00", last = "16:00", personId = "ada") => ({
  personId,
  first: `${date}T${first}:00.000Z`,
  last: `${date}T${last}:00.000Z`,
});

describe("work without a proof", () => {
  it("is marked only where a proof was asked for when the work was done", () => {
    expect(unprovenWork([day("2026-03-02")], [], [])).toEqual([]);
    expect(unprovenWork([day("2026-02-28")], [asked()], [])).toEqual([]);
    expect(unprovenWork([day("2026-03-02")], [asked()], [])).toEqual([
      { personId: "ada", exercises: ["tenths"], from: "2026-03-02", to: "2026-03-02" },
    ]);
    const askedNoMore = asked({ from: "2026-03-05T08:00:00.000Z", exercises: [] });
    expect(unprovenWork([day("2026-03-02"), day("2026-03-06")], [asked(), askedNoMore], [])).toMatchObject([
      { from: "2026-03-02", to: "2026-03-02" },
    ]);
  });

  it("is not marked where the proof was there, and a proof of later does not reach back", () => {
    const days = [day("2026-03-02"), day("2026-03-03"), day("2026-03-04"), day("2026-04-04")];
    expect(unprovenWork(days, [asked()], [met()])).toEqual([
      { personId: "ada", exercises: ["tenths"], from: "2026-03-02", to: "2026-03-03" },
      { personId: "ada", exercises: ["tenths"], from: "2026-04-04", to: "2026-04-04" },
    ]);
    expect(unprovenWork([day("2026-03-04")], [asked()], [met()])).toEqual([]);
  });

  it("is each person's own, and names every exercise that lacks", () => {
    const two = asked({ exercises: ["tenths", "line-up"] });
    expect(
      unprovenWork([day("2026-03-04"), day("2026-03-04", "09:00", "10:00", "ben")], [two], [met()]),
    ).toEqual([
      { personId: "ada", exercises: ["line-up"], from: "2026-03-04", to: "2026-03-04" },
      { personId: "ben", exercises: ["tenths", "line-up"], from: "2026-03-04", to: "2026-03-04" },
    ]);
  });

  it("waits for an examiner where one was asked for", () => {
    const signed = met({ signedAt: "2026-03-10T08:00:00.000Z" });
    const days = [day("2026-03-05"), day("2026-03-11")];
    expect(unprovenWork(days, [asked({ practiceBySignature: true })], [signed])).toMatchObject([
      { from: "2026-03-05", to: "2026-03-05" },
    ]);
  });

  it("is marked from the withdrawal of a certificate on, and not before", () => {
    const taken = met({ signedAt: "2026-03-03T13:00:00.000Z", withdrawnAt: "2026-03-05T12:00:00.000Z" });
    const days = [day("2026-03-04"), day("2026-03-05"), day("2026-03-06")];
    for (const practiceBySignature of [true, false])
      expect(unprovenWork(days, [asked({ practiceBySignature })], [taken])).toMatchObject([
        { from: "2026-03-05", to: "2026-03-06" },
      ]);
  });

  it("is said with the word Practice, the days and what lacks", () => {
    const one = { personId: "ada", exercises: ["tenths" as const], from: "2026-03-02", to: "2026-03-03" };
    expect(unprovenWords(one, "Ada Example")).toBe(
      "Practice: Ada Example worked from 2026-03-02 to 2026-03-03 without the proof that is asked for (“Read tenths”).",
    );
  });
});
