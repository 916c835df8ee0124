import { expect, it } from "vitest";
import { calls } from "#core/contract/calls.ts";
import { Name, Note, OptionalLine, Reason } from "#core/contract/records/primitives.ts";
import { goByNotation, shown } from "#renderer/window/notation.ts";
import { KEYS_OF_TYPED_TEXT, noteTypedTexts } from "#renderer/window/typed-texts.ts";

const TYPED: ReadonlySet<unknown> = new Set([Name, OptionalLine, Note, Reason]);
const WRAPS = new Set(["optional", "nullable", "default", "prefault", "readonly", "nonoptional"]);

interface Schema {
  readonly def: {
    readonly type: string;
    readonly innerType?: Schema;
    readonly shape?: Readonly<Record<string, Schema>>;
    readonly element?: Schema;
    readonly options?: readonly Schema[];
    readonly valueType?: Schema;
    readonly out?: Schema;
  };
}

function keysUnder(schema: Schema, key: string, seen: Set<unknown>, found: Set<string>): void {
  if (TYPED.has(schema)) {
    found.add(key);
    return;
  }
  const { type, innerType, shape = {}, element, options = [], valueType, out } = schema.def;
  if (WRAPS.has(type) && innerType) {
    keysUnder(innerType, key, seen, found);
    return;
  }
  if (seen.has(schema)) return;
  seen.add(schema);
  for (const [name, inner] of Object.entries(shape)) keysUnder(inner, name, seen, found);
  for (const inner of [element, valueType, out, ...options]) if (inner) keysUnder(inner, key, seen, found);
}

it("every name under which the contract answers with people's own words is known", () => {
  const found = new Set<string>();
  for (const { output } of Object.values(calls)) {
    keysUnder(output as unknown as Schema, "", new Set(), found);
  }
  // Words of the program that come under a schema of names.
  const ofTheProgram = ["words"];
  expect([...found].filter((key) => !KEYS_OF_TYPED_TEXT.has(key) && !ofTheProgram.includes(key))).toEqual([]);
  expect(found.has("sample") && found.has("serial")).toBe(true);
});

it("people's own words stay as typed, alone and in a sentence, and the program's numbers beside them do not", () => {
  noteTypedTexts(
    { rows: [{ sample: "Lot 7.31" }], serial: "1021.5", label: "0.5", value: "2.5" },
    "sheets.list",
  );
  goByNotation({ decimalSign: "comma", dateForm: "31.01.2026" });
  expect(shown("Lot 7.31")).toBe("Lot 7.31");
  expect(shown("Lot 7.31: 12.5 µm on 2026-01-31")).toBe("Lot 7.31: 12,5 µm on 31.01.2026");
  expect(shown("1021.5")).toBe("1021.5");
  expect(shown("Stand 1021.5: 2.5 µm, 11021.5 µm")).toBe("Stand 1021.5: 2,5 µm, 11021,5 µm");
  expect([shown("0.5"), shown("2.5")]).toEqual(["0,5", "2,5"]);
  goByNotation({ decimalSign: "point", dateForm: "2026-01-31" });
  expect(shown("12.5 on 2026-01-31")).toBe("12.5 on 2026-01-31");
});
