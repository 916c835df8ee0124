import { describe, expect, it } from "vitest";
import { FIBRES_ON_FILTER, HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { READY_COUNT_METHODS } from "#core/counting/methods/ready-count-methods.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import {
  definitionOf,
  fieldOfPath,
  problemsOfMethod,
  valuesOfMethod,
  vesselChoices,
} from "#renderer/screens/count/methods/method-draft.ts";

describe("a method made from another", () => {
  it.each(READY_COUNT_METHODS)("$id untouched is itself again, but for its name", ({ definition }) => {
    const values = { ...valuesOfMethod(definition), name: "Ours" };
    expect(problemsOfMethod(values, definition)).toEqual({});
    expect(definitionOf(values, definition)).toEqual({ ...definition, name: "Ours" });
  });

  it("has its own stopping rule, in the numbers typed", () => {
    const values = { ...valuesOfMethod(UTERMOHL_FIELDS), stop: "interval", stopNumber: "12,5" };
    expect(problemsOfMethod(values, UTERMOHL_FIELDS)).toEqual({});
    expect(definitionOf(values, UTERMOHL_FIELDS).stopping.rule).toEqual({
      kind: "interval",
      relativeHalfWidth: 0.125,
      level: 0.95,
    });
  });

  it("has several conditions together, each of a sum, of fields or of what else there is to count", () => {
    const base = {
      ...UTERMOHL_FIELDS,
      categories: UTERMOHL_FIELDS.categories.map((one, at) =>
        at === 0 ? { ...one, sums: [{ name: "algae", part: "in" as const }] } : one,
      ),
    };
    const stopTogether = {
      parts: [
        { what: "sum algae", number: "400" },
        { what: "fields", number: "30" },
      ],
      together: "all",
      latest: "100",
    };
    const values = { ...valuesOfMethod(base), stop: "several", stopTogether };
    expect(problemsOfMethod(values, base)).toEqual({});
    expect(definitionOf(values, base).stopping).toMatchObject({
      name: "400 objects of “algae” and 30 fields, or 100 fields",
      rule: {
        kind: "any",
        rules: [
          {
            kind: "all",
            rules: [
              { kind: "units", atLeast: 400, classes: [base.categories[0]?.key], of: "algae" },
              { kind: "fields", atLeast: 30 },
            ],
          },
          { kind: "fields", atLeast: 100 },
        ],
      },
    });
    const first = { ...values, stopTogether: { ...stopTogether, together: "any", latest: "" } };
    expect(definitionOf(first, base).stopping).toMatchObject({
      name: "400 objects of “algae” or 30 fields",
      rule: { kind: "any", rules: [{ kind: "units" }, { kind: "fields", atLeast: 30 }] },
    });
    const wrong = {
      ...values,
      stopTogether: {
        parts: [
          { what: "sum herbs", number: "0" },
          { what: "fields", number: "2.5" },
          { what: "fields", number: "3" },
        ],
        together: "all",
        latest: "-1",
      },
    };
    expect(Object.keys(problemsOfMethod(wrong, base)).sort()).toEqual([
      "stopTogether.latest",
      "stopTogether.parts.0.number",
      "stopTogether.parts.0.what",
      "stopTogether.parts.1.number",
      "stopTogether.parts.2.what",
    ]);
  });

  it("has its own round chamber, with its source", () => {
    const values = {
      ...valuesOfMethod(UTERMOHL_FIELDS),
      vessel: "own circle",
      vesselName: "Chamber 3",
      vesselDiameter: "26.4",
      vesselSource: "measured here",
    };
    expect(problemsOfMethod(values, UTERMOHL_FIELDS)).toEqual({});
    expect(definitionOf(values, UTERMOHL_FIELDS).density).toEqual({
      kind: "chamber",
      chamber: {
        from: "own",
        name: "Chamber 3",
        outline: { kind: "circle", diameter: "26.4" },
        depth: "",
        squares: [],
        source: "measured here",
        standing: "own",
      },
    });
  });

  it("names at its field what is missing or unreadable", () => {
    const own = {
      ...valuesOfMethod(UTERMOHL_FIELDS),
      vessel: "own rectangle",
      vesselLength: "5x",
      name: " ",
    };
    expect(Object.keys(problemsOfMethod(own, UTERMOHL_FIELDS)).sort()).toEqual([
      "name",
      "vesselLength",
      "vesselName",
      "vesselSource",
      "vesselWidth",
    ]);
    const stop = { ...valuesOfMethod(UTERMOHL_FIELDS), stop: "interval", stopNumber: "900" };
    expect(problemsOfMethod(stop, UTERMOHL_FIELDS)).toHaveProperty("stopNumber");
    const precision = { ...valuesOfMethod(UTERMOHL_FIELDS), precision: "7" };
    expect(problemsOfMethod(precision, UTERMOHL_FIELDS)).toHaveProperty("precision");
    expect(fieldOfPath("definition.chamber.outline.diameter")).toBe("vesselDiameter");
  });

  it("offers filters for fibres, and no other chamber where the field is ruled on the chamber", () => {
    expect(vesselChoices(FIBRES_ON_FILTER).map(({ words }) => words)).toContain("an own filter");
    expect(vesselChoices(HAEMOCYTOMETER)).toEqual([]);
  });
});
