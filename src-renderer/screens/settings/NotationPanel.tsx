import { PAPERS } from "#core/contract/records/exchange.ts";
import { COPIED_SIZES } from "#core/contract/records/own-settings.ts";
import { DATE_FORMS, DECIMAL_SIGNS, withOwnNotation } from "#core/quantity/shown-text.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { changeOwnSettings, useOwnSettings } from "../../window/own-settings.ts";

const SIGNS = { point: "Point: 12.5", comma: "Comma: 12,5" } as const;
const COPIED = {
  "as shown": "In one column: 22.16 ± 0.98",
  "number and U": "Number and U, in two columns",
} as const;

function oneOf<T extends string>(all: readonly T[], value: string, otherwise: T): T {
  return all.find((one) => one === value) ?? otherwise;
}

export function NotationPanel() {
  const { decimalSign, dateForm, paper, copiedSizes } = useOwnSettings();
  const example = withOwnNotation("12.5 µm ± 0.4 µm on 2026-01-31", { decimalSign, dateForm });
  return (
    <Panel
      title="Numbers, dates, paper"
      lead={
        <span data-as-written>
          On screen, in printed reports and in what is copied. Records, JSON and CSV files stay as they are:
          with a point and dates as 2026-01-31. Workbooks hold true numbers, which the spreadsheet shows in
          its own way.
        </span>
      }
    >
      <FieldGrid>
        <SelectField
          id="own-decimal"
          label="Decimal sign"
          asWritten
          hint="Point and comma can both be typed, whichever is shown."
          value={decimalSign}
          onChange={(value) => changeOwnSettings({ decimalSign: oneOf(DECIMAL_SIGNS, value, "point") })}
          choices={DECIMAL_SIGNS.map((value) => ({ value, words: SIGNS[value] }))}
        />
        <SelectField
          id="own-date"
          label="Dates"
          asWritten
          hint="A date can be typed in this form, and always as year, month, day in one: 20260131."
          value={dateForm}
          onChange={(value) => changeOwnSettings({ dateForm: oneOf(DATE_FORMS, value, "2026-01-31") })}
          choices={DATE_FORMS.map((value) => ({ value, words: value }))}
        />
        <SelectField
          id="own-paper"
          label="Paper"
          value={paper}
          onChange={(value) => changeOwnSettings({ paper: oneOf(PAPERS, value, "A4") })}
          choices={[
            { value: "A4", words: "A4" },
            { value: "Letter", words: "Letter (8.5 × 11 in)" },
          ]}
        />
        <SelectField
          id="own-copied"
          label="Sizes copied from a sheet"
          value={copiedSizes}
          onChange={(value) => changeOwnSettings({ copiedSizes: oneOf(COPIED_SIZES, value, "as shown") })}
          choices={COPIED_SIZES.map((value) => ({ value, words: COPIED[value] }))}
        />
      </FieldGrid>
      <p role="status" data-as-written>
        Example: {example}
      </p>
    </Panel>
  );
}
