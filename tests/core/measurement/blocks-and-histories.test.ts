import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { BlockChoices } from "#core/contract/records/block.ts";
import { agreementReport } from "#core/measurement/agreement-report.ts";
import { blockColumnWords, guessColumns } from "#core/measurement/block-columns.ts";
import { readBlock } from "#core/measurement/read-block.ts";
import {
  bandOfBins,
  isOutsideHistory,
  labelStem,
  sizeBin,
  sizeHistoryOf,
} from "#core/measurement/size-history.ts";
import { cellsOfText, textOfCells } from "#core/measurement/tab-separated.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { DecimalText } from "#core/quantity/decimal-text.ts";

const METHOD = {
  dimensions: [
    { key: "l", name: "Length" },
    { key: "w", name: "Width" },
  ],
  entry: "two-edges" as const,
  repeats: 1,
};

describe("tab-separated text", () => {
  const cell = fc
    .string({ unit: fc.constantFrom("a", "7", '"', "\t", "\n", " ", ",") })
    .map((text) => text.trim());
  const line = fc.array(cell, { minLength: 1, maxLength: 4 });

  it("comes back as it was copied", () => {
    fc.assert(
      fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), (lines) => {
        // A last line of one empty cell is the line end of the one before.
        fc.pre(lines.at(-1)?.join("") !== "");
        expect(cellsOfText(textOfCells(lines))).toEqual(lines);
      }),
    );
  });

  it.each([
    [
      "a\tb\r\nc\td\r\n",
      [
        ["a", "b"],
        ["c", "d"],
      ],
    ],
    ['"a ""b"""\t"c\nd"', [['a "b"', "c\nd"]]],
    ['"half', [['"half']]],
    ['"a" b\tc', [['"a" b', "c"]]],
    ["a\t", [["a", ""]]],
    ["\n\na", [[""], [""], ["a"]]],
    ["", []],
  ])("%j is read as its cells", (text, cells) => {
    expect(cellsOfText(text)).toEqual(cells);
  });
});

type Choices = Pick<BlockChoices, "columns" | "skipFirstLine" | "excluded" | "corrections">;

function choices(own: Partial<Choices> = {}): Choices {
  const edge = (dimension: string, side: "left" | "right") => ({
    kind: "reading" as const,
    cell: { dimension, edge: side, repeat: 1 },
  });
  return {
    columns: [{ kind: "label" }, edge("l", "left"), edge("l", "right")],
    skipFirstLine: false,
    excluded: [],
    corrections: [],
    ...own,
  };
}

describe("a block", () => {
  it("names every cell that cannot be taken in, and why", () => {
    const { failed, lines } = readBlock(
      "A\tx\t30\nB\t10\t\nC\t10\t30\t5\nD\t\t\n\nE\t1,5\t2.5",
      choices(),
      METHOD,
    );
    expect(failed.map((one) => [one.line, one.column, one.text])).toEqual([
      [1, 2, "x"],
      [2, 3, ""],
      [3, 4, "5"],
      [4, 2, ""],
    ]);
    expect(lines.map((one) => [one.line, one.label, one.readings.map((reading) => reading.typed)])).toEqual([
      [1, "A", ["30"]],
      [2, "B", ["10"]],
      [3, "C", ["10", "30"]],
      [6, "E", ["1,5", "2.5"]],
    ]);
  });

  it("fails no more once cells are corrected, left out, or their line is", () => {
    const dealtWith = choices({
      corrections: [{ line: 1, column: 2, text: "12" }],
      excluded: [
        { line: 2, column: 3 },
        { line: 3, column: null },
      ],
    });
    const { failed, lines, excludedCells } = readBlock("A\tx\t30\nB\t10\t\nC\t10\tx", dealtWith, METHOD);
    expect(failed).toEqual([]);
    expect(lines.map((one) => one.readings.length)).toEqual([2, 1]);
    expect(excludedCells).toBe(3);
  });

  it.each([
    ["twice the same", choices({ columns: [...choices().columns, { kind: "label" }] }), "columns.3"],
    ["no readings", choices({ columns: [{ kind: "label" }] }), "columns"],
    [
      "edges and divisions of one dimension",
      choices({
        columns: [
          ...choices().columns,
          { kind: "reading", cell: { dimension: "l", edge: "direct", repeat: 1 } },
        ],
      }),
      "columns.3",
    ],
  ])("is refused for columns with %s", (_, own, field) => {
    expect(() => readBlock("a", own, METHOD)).toThrow(expect.objectContaining({ field }));
  });

  it("has its columns guessed from its first lines", () => {
    const guess = guessColumns(
      cellsOfText("Nr\tleft\tright\tremark\nA 1\t10\t20\t\nA 2\t11\t21,5\tbent"),
      METHOD,
    );
    expect(guess.skipFirstLine).toBe(true);
    expect(guess.columns.map((one) => blockColumnWords(one, METHOD))).toEqual([
      "label",
      "Length, left edge (div)",
      "Length, right edge (div)",
      "note",
    ]);
    const numbers = guessColumns(cellsOfText("10\t20\n11\t21"), { ...METHOD, entry: "direct" });
    expect(numbers.skipFirstLine).toBe(false);
    expect(numbers.columns.map((one) => blockColumnWords(one, METHOD))).toEqual([
      "Length, divisions",
      "Width, divisions",
    ]);
  });
});

describe("the history of a label", () => {
  it.each([
    ["Corylus 12", "Corylus"],
    ["Corylus #12", "Corylus"],
    ["B-09", "B"],
    ["Corylus cordata", "Corylus cordata"],
    ["17", ""],
    [" ", ""],
  ])("of %j is kept under %j", (label, stem) => {
    expect(labelStem(label)).toBe(stem);
  });

  it("has a band that holds the middle 95 % of its sizes, to about 2 %", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.5, max: 500, noNaN: true }), { minLength: 40, maxLength: 400 }),
        (sizes) => {
          const counts = new Map<number, number>();
          for (const size of sizes) {
            const bin = sizeBin(decimal(size)) ?? 0;
            counts.set(bin, (counts.get(bin) ?? 0) + 1);
          }
          const bins = [...counts].map(([bin, n]) => ({ bin, n })).sort((a, b) => a.bin - b.bin);
          const band = bandOfBins(bins);
          const rising = [...sizes].sort((a, b) => a - b);
          const at = (share: number) => rising[Math.max(1, Math.ceil(sizes.length * share)) - 1] ?? 0;
          expect(band.n).toBe(sizes.length);
          for (const [text, exact] of [
            [band.low, at(0.025)],
            [band.median, at(0.5)],
            [band.high, at(0.975)],
            [band.least, at(0)],
            [band.greatest, at(1)],
          ] as const) {
            expect(Math.abs(Number(text) / exact - 1)).toBeLessThan(0.021);
          }
          expect(Number(band.low)).toBeLessThanOrEqual(at(0.025) * 1.00001);
          expect(Number(band.high)).toBeGreaterThanOrEqual(at(0.975) * 0.99999);
        },
      ),
    );
  });

  it("knows a median from 5 sizes on, and its tails from 20", () => {
    const record = {
      label: "A",
      dimension: "l",
      n: 19,
      least: "0.5",
      low: "1",
      median: "2",
      high: "3",
      greatest: "4",
    };
    const of = (n: number) => sizeHistoryOf({ ...record, n } as Parameters<typeof sizeHistoryOf>[0]);
    expect(of(4)).toBeNull();
    expect(of(5)?.median.toFixed()).toBe("2");
    expect(isOutsideHistory(decimal("3.1"), of(19))).toBe(false);
    const history = of(20);
    expect([isOutsideHistory(decimal("3.1"), history), isOutsideHistory(decimal(3), history)]).toEqual([
      true,
      false,
    ]);
    expect(sizeBin(decimal(0))).toBeNull();
  });
});

describe("the agreement of a second reader", () => {
  const size = (value: string) => ({ size: { value: value as DecimalText } as never });
  const pair = (ordinal: number, first: string | null, second: string | null) => ({
    rowId: `r${ordinal}`,
    ordinal,
    dimension: "l",
    first: first === null ? null : size(first),
    second: second === null ? null : size(second),
  });

  it("is bias, limits and technical error of the pairs, and names what has no pair", () => {
    const report = agreementReport(
      [pair(1, "10", "10.2"), pair(2, "12", "12"), pair(3, "14", "14.4"), pair(4, "9", null)],
      [...METHOD.dimensions],
    );
    // Differences 0.2, 0, 0.4: mean 0.2, s 0.2, technical error √(0.2/6) (Dahlberg 1940); computed.
    expect(report.dimensions).toMatchObject([{ dimension: "l", n: 3, bias: "0.2", deviation: "0.2" }]);
    const [length] = report.dimensions;
    expect(Number(length?.technicalError)).toBeCloseTo(Math.sqrt(0.2 / 6), 12);
    expect(Number(length?.limits.upper)).toBeCloseTo(0.2 + 1.96 * 0.2, 12);
    expect(report.pairs.map((one) => one.difference)).toEqual(["0.2", "0", "0.4"]);
    expect(report.leftOut).toEqual(["row 4, l: not read a second time"]);
  });

  it("says nothing of a single pair", () => {
    const report = agreementReport([pair(1, "10", "10.2")], [...METHOD.dimensions]);
    expect(report.dimensions).toEqual([]);
    expect(report.leftOut).toEqual(["Length: one pair alone says nothing about agreement"]);
  });
});
