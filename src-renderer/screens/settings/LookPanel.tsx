import { TEXT_SIZES, type Theme } from "#core/contract/records/own-settings.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { changeOwnSettings, useOwnSettings } from "../../window/own-settings.ts";

const ROWS = { normal: "Normal", compact: "Compact: more rows in sight" } as const;
const SHOWN = { full: "In full", folded: "Folded to one line" } as const;
const RAIL = { wide: "Wide, with words", narrow: "Narrow, icons alone" } as const;

const choicesOf = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, text]) => ({ value, words: text }));

export function LookPanel() {
  const { theme, textSize, compact, foldedHead, narrowRail } = useOwnSettings();
  return (
    <Panel title="Look">
      <FieldGrid>
        <SelectField
          id="own-theme"
          label="Theme"
          autoFocus
          value={theme}
          onChange={(value) => changeOwnSettings({ theme: value as Theme })}
          choices={choicesOf({ dim: "Dim, for a darkened room", light: "Light" })}
        />
        <SelectField
          id="own-text-size"
          label="Size of text"
          value={String(textSize)}
          onChange={(value) =>
            changeOwnSettings({ textSize: TEXT_SIZES.find((size) => String(size) === value) ?? 100 })
          }
          choices={TEXT_SIZES.map((size) => ({
            value: String(size),
            words: size === 100 ? "100 % (usual)" : `${size} %`,
          }))}
        />
        <SelectField
          id="own-rows"
          label="Rows of sheets"
          value={compact ? "compact" : "normal"}
          onChange={(value) => changeOwnSettings({ compact: value === "compact" })}
          choices={choicesOf(ROWS)}
        />
        <SelectField
          id="own-head"
          label="Objective and result in Measure"
          value={foldedHead ? "folded" : "full"}
          onChange={(value) => changeOwnSettings({ foldedHead: value === "folded" })}
          choices={choicesOf(SHOWN)}
        />
        <SelectField
          id="own-rail"
          label="Rail at the left"
          value={narrowRail ? "narrow" : "wide"}
          onChange={(value) => changeOwnSettings({ narrowRail: value === "narrow" })}
          choices={choicesOf(RAIL)}
        />
      </FieldGrid>
    </Panel>
  );
}
