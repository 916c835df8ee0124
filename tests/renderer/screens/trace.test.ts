import { describe, expect, it } from "vitest";
import type { DecimalText } from "#core/quantity/decimal-text.ts";
import { base64Of, joinBase64 } from "#renderer/bridge/base64.ts";
import { readingWords } from "#renderer/parts/bench-words/chain-words.ts";
import { daysWords, placeOfDue, whatWords } from "#renderer/screens/bench/due-words.ts";
import {
  EMPTY_CERTIFICATE,
  slips,
  withSettled,
} from "#renderer/screens/registers/certificates/certificate-form.ts";
import { changeWords, countWords, differenceWords } from "#renderer/screens/trace/forward-words.ts";
import {
  type Bench,
  proposedReplacement,
  replacementChoices,
  replacementOf,
  subjectChoices,
} from "#renderer/screens/trace/subject-choices.ts";

describe("the second entry of a certificate's table", () => {
  const first = [
    { nominal: "0", value: "0" },
    { nominal: "500", value: "0.20" },
    { nominal: "1000", value: "0,4" },
  ];

  it("finds no slip where the same numbers are written differently", () => {
    const again = [
      { nominal: "0.0", value: "0" },
      { nominal: "500", value: "0.2" },
      { nominal: "1000", value: "0.40" },
      { nominal: "", value: "" },
    ];
    expect(slips(first, again)).toEqual([]);
  });

  it("names each place once, in an order that does not tell which entry was first", () => {
    const again = [
      { nominal: "0", value: "0" },
      { nominal: "500", value: "0.02" },
      { nominal: "1000", value: "0.4" },
    ];
    expect(slips(first, again)).toEqual([{ row: 1, key: "value", texts: ["0.02", "0.20"] }]);
    expect(slips(again, first)).toEqual(slips(first, again));
  });

  it("finds a line that one entry has left out", () => {
    expect(slips(first, first.slice(0, 2))).toEqual([
      { row: 2, key: "nominal", texts: ["", "1000"] },
      { row: 2, key: "value", texts: ["", "0,4"] },
    ]);
  });

  it("is settled in both entries at once", () => {
    const typed = { ...EMPTY_CERTIFICATE, lines: first, second: first.slice(0, 2) };
    const settled = slips(typed.lines, typed.second).reduce(
      (before, slip) => withSettled(before, slip, slip.key === "nominal" ? "1000" : "0.4"),
      typed as typeof EMPTY_CERTIFICATE,
    );
    expect(slips(settled.lines, settled.second ?? [])).toEqual([]);
    expect(settled.lines).toHaveLength(3);
  });
});

describe("an attachment's bytes", () => {
  it("are base64 with padding, whatever their number", () => {
    for (let length = 0; length < 70; length += 1) {
      const bytes = Uint8Array.from({ length }, (_, index) => (index * 37) % 256);
      expect(base64Of(bytes)).toBe(Buffer.from(bytes).toString("base64"));
    }
    const large = new Uint8Array(100_000).fill(255);
    expect(base64Of(large)).toBe(Buffer.from(large).toString("base64"));
  });

  it("are joined from parts of any length", () => {
    const bytes = Buffer.from(Array.from({ length: 100 }, (_, index) => index));
    for (const cut of [3, 4, 5, 50]) {
      const parts = [];
      for (let from = 0; from < bytes.length; from += cut) {
        parts.push(bytes.subarray(from, from + cut).toString("base64"));
      }
      expect(parts.reduce(joinBase64)).toBe(bytes.toString("base64"));
    }
  });
});

describe("words of the forward view", () => {
  it.each([
    ["0.004", "+0.40 %"],
    ["-0.0312", "−3.1 %"],
    ["0", "none"],
    ["0.12345", "+12 %"],
  ])("a relative change of %s is %s", (stored, words) => {
    expect(changeWords(stored)).toBe(words);
  });

  it("gives a difference with its sign", () => {
    expect(differenceWords("0.8080808")).toBe("+0.81");
    expect(differenceWords("-12.34")).toBe("−12");
    expect(differenceWords(null)).toBe("–");
  });

  it("counts results, rows and sheets", () => {
    const counts = { sheets: 2, rows: 300, results: 300, signedSheets: 1 };
    expect(countWords({ counts })).toBe("300 results in 300 rows on 2 sheets, 1 of them signed.");
    expect(countWords({ counts: { ...counts, results: 0 } })).toBe("It touches no result of these days.");
  });
});

describe("a reading as typed", () => {
  it("shows both edges, a direct reading, and which repeat it is", () => {
    expect(readingWords({ number: 1, left: "23.0", right: "51.5", direct: null })).toBe("23.0 … 51.5 div");
    expect(readingWords({ number: 1, left: null, right: null, direct: "20.5" })).toBe(
      "20.5 div read directly",
    );
    expect(readingWords({ number: 2, left: "40", right: null, direct: null })).toBe("2: 40 … ? div");
  });
});

describe("what one can look forward from", () => {
  const certificate = (id: string) => ({ id, number: `C-${id}`, calibratedOn: "2026-01-01" });
  const bench = {
    micrometers: [
      { id: "m1", name: "SM 1", serial: "1", certificates: [certificate("a"), certificate("b")] },
      { id: "m2", name: "SM 2", serial: "2", certificates: [certificate("c")] },
    ],
    microscopes: [],
    calibrations: [
      calibration("k1", "t1", "m1", "a", "superseded"),
      calibration("k2", "t1", "m2", "c", "in force"),
      calibration("k3", "t2", "m2", "c", "in force"),
      calibration("k4", "t1", "m1", "a", "withdrawn"),
    ],
    events: [],
    replacements: [
      { certificateId: "a", replacedBy: "b", reason: "corrected", at: "2026-02-01T00:00:00.000Z", by: "p" },
    ],
    trainName: (id: string) => `train ${id}`,
  } as unknown as Bench;

  function calibration(id: string, trainId: string, micrometer: string, by: string, state: string) {
    const result = { shownFactor: "10.4" as DecimalText };
    const startedAt = "2026-01-02T00:00:00.000Z";
    return { id, trainId, stageMicrometerId: micrometer, certificateId: by, state, startedAt, result };
  }

  it("lists every certificate and says which is replaced", () => {
    expect(subjectChoices("certificate", bench).map((one) => one.words)).toEqual([
      "C-a of SM 1, 2026-01-01, replaced",
      "C-b of SM 1, 2026-01-01",
      "C-c of SM 2, 2026-01-01",
    ]);
  });

  it("offers certificates of the same micrometer and usable calibrations of the trains reached", () => {
    const offered = replacementChoices({ kind: "certificate", id: "a" }, bench).map((one) => one.value);
    expect(offered).toEqual(["certificate b", "calibration k1", "calibration k2"]);
  });

  it("proposes what has already taken the certificate's place", () => {
    const proposed = proposedReplacement({ kind: "certificate", id: "a" }, bench);
    expect(replacementOf(proposed)).toEqual({ kind: "certificate", certificateId: "b" });
    expect(replacementOf(proposedReplacement({ kind: "certificate", id: "c" }, bench))).toBeNull();
  });
});

describe("due work", () => {
  it("says when in words", () => {
    expect([-31, -1, 0, 1, 45].map(daysWords)).toEqual([
      "overdue since 31 days",
      "overdue since 1 day",
      "today",
      "in 1 day",
      "in 45 days",
    ]);
  });

  it("names its kind once", () => {
    expect(whatWords({ kind: "certificate", what: "certificate C-1 of SM 1" })).toBe(
      "Certificate C-1 of SM 1",
    );
    expect(whatWords({ kind: "check", what: "40×/0.65 on Stand A" })).toBe("Check of 40×/0.65 on Stand A");
  });

  it("leads to the place where it is done", () => {
    expect(placeOfDue({ kind: "check", id: "k", trainId: "t" }, [])).toMatchObject({
      screen: "calibrate",
      trainId: "t",
      check: true,
    });
    expect(placeOfDue({ kind: "calibration", id: "k", trainId: "t" }, [])).not.toHaveProperty("check");
    const owner = { id: "m", certificates: [{ id: "c" }] } as unknown as Bench["micrometers"][number];
    expect(placeOfDue({ kind: "certificate", id: "c", trainId: null }, [owner])).toMatchObject({
      screen: "registers",
      recordId: "m",
    });
  });
});
