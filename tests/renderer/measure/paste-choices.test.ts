import { describe, expect, it } from "vitest";
import type { BlockColumn } from "#core/contract/records/block.ts";
import type { MethodDefinition } from "#core/contract/records/method.ts";
import { readBlock } from "#core/measurement/read-block.ts";
import { columnsFor } from "#renderer/grid/grid-columns.ts";
import { type GridState, newGrid } from "#renderer/grid/grid-state.ts";
import { copiedHeadings } from "#renderer/screens/measure/blocks/copied-columns.ts";
import { guessPaste } from "#renderer/screens/measure/blocks/guess-paste.ts";
import {
  blockOf,
  type Paste,
  type PasteChoices,
  remedyOf,
  withRemedy,
} from "#renderer/screens/measure/blocks/paste-choices.ts";

const DEFINITION = {
  dimensions: [
    { key: "polar", name: "Polar axis" },
    { key: "equatorial", name: "Equatorial diameter" },
  ],
  entry: "two-edges",
  repeats: 1,
} as unknown as MethodDefinition;
const COLUMNS = columnsFor(DEFINITION);

const at = (key: string): number => COLUMNS.findIndex((column) => column.key === key);

/** A sheet of `total` rows; the cursor in the row `row`, from 0, at a column. */
function sheet(total: number, row: number, key = "polar.left", ownLabel = ""): GridState {
  const state = newGrid({
    columns: COLUMNS,
    objectives: [],
    objectiveId: "o",
    total,
    firstRowId: "fresh",
  });
  const last = { id: "last", label: "Salix 9", measurements: [], struck: null, note: "" } as never;
  const pages = total > 0 ? [[...new Array<undefined>(total - 1).fill(undefined), last]] : [];
  const fresh = [{ id: "fresh", label: ownLabel, note: "" }];
  return { ...state, pages, fresh, cursor: { row, column: at(key) } };
}

const reading = (dimension: string, edge: "left" | "right" | "direct"): BlockColumn => ({
  kind: "reading",
  cell: { dimension, edge, repeat: 1 },
});

const guess = (text: string, state: GridState, copied: typeof COLUMNS | null = null) =>
  guessPaste(
    text.split("\n").map((line) => line.split("\t")),
    state,
    DEFINITION,
    copied,
  );

describe("the guess at a pasted block", () => {
  it("one column of numbers at the next specimen is divisions, with labels that run on", () => {
    const { paste, choices } = guess("20.5\n21", sheet(3, 3, "equatorial.left"));
    expect(choices).toMatchObject({
      columns: [reading("equatorial", "direct")],
      intoRows: false,
      skipFirstLine: false,
      firstLabel: "Salix 10",
    });
    expect(paste.cursorAt).toBeNull();
  });

  it("one column of numbers on a stored row goes into the column of the cursor, from that row on", () => {
    const { paste, choices } = guess("20.5\n21", sheet(3, 1, "polar.right"));
    expect(choices).toMatchObject({ columns: [reading("polar", "right")], intoRows: true });
    expect(paste.cursorAt).toBe(2);
  });

  it("one column of names on a stored row goes where the cursor stands", () => {
    expect(guess("a\nb", sheet(3, 1, "note")).choices.columns).toEqual([{ kind: "note" }]);
    expect(guess("1\n2", sheet(3, 1, "label")).choices.columns).toEqual([{ kind: "label" }]);
  });

  it("a label typed at the next specimen is where the labels begin", () => {
    expect(guess("20.5\n21", sheet(3, 3, "polar.left", "Acer 1")).choices.firstLabel).toBe("Acer 1");
  });

  it("numbers go to the readings from the cursor on, words are label and note", () => {
    const { columns } = guess("a\t1\t22\tsoft\nb\t2\t23\t", sheet(0, 0, "equatorial.left")).choices;
    expect(columns).toEqual([
      { kind: "label" },
      reading("equatorial", "left"),
      reading("equatorial", "right"),
      { kind: "note" },
    ]);
  });

  it("a copy with this program's headings is known by them, whatever the order", () => {
    const keys = ["equatorial.right", "polar.size", "label", "ordinal"];
    const heading = keys
      .map((key) => copiedHeadings(COLUMNS[at(key)] as never, DEFINITION, false))
      .join("\t");
    const { columns, skipFirstLine } = guess(`${heading}\n30\t1 ± 1\ta\t1`, sheet(0, 0)).choices;
    expect(skipFirstLine).toBe(true);
    expect(columns).toEqual([
      reading("equatorial", "right"),
      { kind: "ignored" },
      { kind: "label" },
      { kind: "ignored" },
    ]);
  });

  it("sizes copied in two columns, number and U, are both left out again", () => {
    const keys = ["polar.left", "polar.size"];
    const heading = keys
      .flatMap((key) => copiedHeadings(COLUMNS[at(key)] as never, DEFINITION, true))
      .join("\t");
    expect(guess(`${heading}\n30\t1\t1`, sheet(0, 0)).choices.columns).toEqual([
      reading("polar", "left"),
      { kind: "ignored" },
      { kind: "ignored" },
    ]);
  });

  it("what was copied in this window goes back where it came from; what was computed is left out", () => {
    const copied = COLUMNS.slice(at("polar.left"), at("polar.size") + 1);
    expect(guess("1\t22\t21\t210 ± 1", sheet(0, 0, "equatorial.left"), copied).choices.columns).toEqual([
      reading("polar", "left"),
      reading("polar", "right"),
      { kind: "ignored" },
      { kind: "ignored" },
    ]);
  });

  it("sees the longest line, wherever it stands", () => {
    const short = Array.from({ length: 80 }, () => "1").join("\n");
    expect(guess(`${short}\n1\t2\t3`, sheet(0, 0)).paste.width).toBe(3);
  });
});

const labels = (paste: Paste, choices: PasteChoices): readonly (string | null)[] => {
  const block = blockOf(paste, choices);
  return readBlock(block.text, block.choices, DEFINITION).lines.map((line) => line.label);
};

describe("labels of a pasted column", () => {
  const three = guess("20\n21\n\n22\n23", sheet(3, 3));

  it("run on from the first, past empty lines, as the service reads them", () => {
    expect(labels(three.paste, three.choices)).toEqual(["Salix 10", "Salix 11", "Salix 12", "Salix 13"]);
  });

  it("have no gap where a cell or a line is left out", () => {
    const cell = withRemedy(three.choices, [{ line: 2, column: 1 }], "cell left out");
    expect(labels(three.paste, cell)).toEqual(["Salix 10", "Salix 11", "Salix 12"]);
    const line = withRemedy(three.choices, [{ line: 1, column: 1 }], "line left out");
    expect(labels(three.paste, line)).toEqual(["Salix 10", "Salix 11", "Salix 12"]);
  });

  it("are given to new rows only: rows that are there keep theirs", () => {
    const { paste, choices } = guess("20\n21\n22", sheet(3, 1, "polar.right"));
    expect(labels(paste, choices)).toEqual([null, null, "Salix 10"]);
  });

  it("count the rows that are there by line: an empty line passes its row over", () => {
    const { paste, choices } = guess("20\n\n22\n23", sheet(3, 1, "polar.right"));
    expect(labels(paste, choices)).toEqual([null, "Salix 10", "Salix 11"]);
  });

  it("are none without a first one, and none beside a column of labels", () => {
    expect(labels(three.paste, { ...three.choices, firstLabel: " " })).toEqual([null, null, null, null]);
    const own = guess("a\t20\t40\nb\t21\t41", sheet(3, 3));
    expect(labels(own.paste, own.choices)).toEqual(["a", "b"]);
  });
});

describe("what is decided about a failing cell", () => {
  const { choices } = guess("20\nx", sheet(0, 0));
  const cell = { line: 2, column: 1, text: "x", reason: "is not a number" };

  it("replaces what was decided before, and can be taken back", () => {
    const corrected = withRemedy(choices, [cell], { corrected: "21" });
    expect(remedyOf(corrected, cell)).toEqual({ corrected: "21" });
    const line = withRemedy(corrected, [cell], "line left out");
    expect(remedyOf(line, cell)).toBe("line left out");
    expect(line.corrections.size).toBe(0);
    expect(remedyOf(withRemedy(line, [cell], "cell left out"), cell)).toBe("cell left out");
    const back = withRemedy(line, [cell], null);
    expect(remedyOf(back, cell)).toBeNull();
    expect([...back.excluded, ...back.corrections]).toEqual([]);
  });
});
