import { describe, expect, it } from "vitest";
import { problemOfNumber } from "#core/quantity/number-rule.ts";
import { pathInForm, valueAt, withoutBlankEnd, withValueAt } from "#renderer/parts/form/form-values.ts";
import { cellsOfClipboard } from "#renderer/parts/form/pasted-cells.ts";

describe("values by path", () => {
  it("writes at any depth and leaves the rest as it was", () => {
    const values = { name: "a", lines: [{ value: "1" }, { value: "2" }] };
    const changed = withValueAt(values, "lines.1.value", "40.0");
    expect(valueAt(changed, "lines.1.value")).toBe("40.0");
    expect(valueAt(values, "lines.1.value")).toBe("2");
    expect(Array.isArray(changed.lines)).toBe(true);
    expect(changed.lines[0]).toBe(values.lines[0]);
  });

  it("finds nothing where there is nothing", () => {
    expect(valueAt({ a: "x" }, "a.b.c")).toBeUndefined();
    expect(valueAt(null, "a")).toBeUndefined();
  });

  it.each([
    ["person.name", "person", "name"],
    ["personal.name", "person", "personal.name"],
    ["name", undefined, "name"],
  ])("%s under %s is %s of the form", (path, root, inForm) => {
    expect(pathInForm(path, root)).toBe(inForm);
  });

  it("drops blank rows at the end only, and never the first", () => {
    const blank = (row: string) => row === "";
    expect(withoutBlankEnd(["a", "", "b", "", ""], blank)).toEqual(["a", "", "b"]);
    expect(withoutBlankEnd(["", ""], blank)).toEqual([""]);
  });
});

describe("a typed number", () => {
  it.each([
    ["40.0", {}, null],
    ["0,5", { sign: "positive" }, null],
    ["", { optional: true }, null],
    ["", {}, "is empty: type a number"],
    ["0", { sign: "positive" }, "must be greater than zero"],
    ["-1", { sign: "not negative" }, "must not be negative"],
    ["2.5", { whole: true }, "must be a whole number"],
    ["1e3", {}, "must be written out, without an exponent"],
  ] as const)("%j with %j: %s", (typed, rule, problem) => {
    expect(problemOfNumber(typed, rule)).toBe(problem);
  });
});

describe("cells from a spreadsheet", () => {
  it.each([
    [
      "0\t0\r\n500\t0.2\r\n",
      [
        ["0", "0"],
        ["500", "0.2"],
      ],
    ],
    ["12.5", [["12.5"]]],
    ['"a ""b"""\t 1 ', [['a "b"', "1"]]],
    [
      "1\t\n\t2",
      [
        ["1", ""],
        ["", "2"],
      ],
    ],
  ])("%j", (text, cells) => {
    expect(cellsOfClipboard(text)).toEqual(cells);
  });
});
