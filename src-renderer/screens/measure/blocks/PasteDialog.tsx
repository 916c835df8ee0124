import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import type { BlockPreview } from "#core/contract/records/block.ts";
import type { RowsChanged } from "#core/contract/records/sheet.ts";
import { blockColumnWords } from "#core/measurement/block-columns.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { Button } from "../../../parts/Button.tsx";
import { ChoiceField } from "../../../parts/form/ChoiceField.tsx";
import { TextField } from "../../../parts/form/TextField.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import { objectiveById, type SheetContext } from "../sheet-context.ts";
import styles from "./Blocks.module.css";
import { FailingCells } from "./FailingCells.tsx";
import { PastedColumns } from "./PastedColumns.tsx";
import {
  type Paste,
  type PasteChoices,
  placeOf,
  takesLabels,
  withColumn,
  withRemedy,
} from "./paste-choices.ts";
import { usePasteBlock } from "./use-paste-block.ts";

export interface PasteDialogProps {
  readonly paste: Paste;
  readonly initial: PasteChoices;
  readonly store: GridStore;
  readonly context: SheetContext;
  /** Why a closed sheet is changed; empty on an open one, or while none is given. */
  readonly reason: string;
  readonly onEntered: (changed: RowsChanged) => void;
  readonly onClose: () => void;
}

/**
 * What a pasted block becomes, before anything of it is stored: the use of every column, every cell that cannot be
 * taken in with its reason, to be corrected or left out. Then everything goes in at once.
 */
export function PasteDialog(props: PasteDialogProps) {
  const { paste, initial, store, context, onEntered, onClose } = props;
  const { definition } = context.method;
  const [choices, setChoices] = useState(initial);
  const [reason, setReason] = useState(props.reason);
  const [isWanted, setWanted] = useState(false);
  const block = usePasteBlock(context.sheet.id, paste, choices);
  const { preview, refusal, problems, isLooking, isEntering } = block;
  const onTheWay = useLivePart(store, (state) => state.outbox.length);
  const objectiveId = useLivePart(store, (state) => state.objectiveId);
  const table = useRef<HTMLTableElement>(null);
  const failing = useMemo(
    () => new Set((preview?.failed ?? []).map((cell) => placeOf(cell.line, cell.column))),
    [preview],
  );
  const failedCount = preview?.failedCount ?? 0;
  const columnProblem = problemAtColumn(refusal?.field ?? null, refusal?.message ?? "");

  const takeIn = async (): Promise<void> => {
    const changed = await block.enter(reason);
    if (changed) onEntered(changed);
  };
  // A press while the preview is still on its way holds until it is there.
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once for each press
  useEffect(() => {
    if (!isWanted || isLooking || onTheWay > 0 || isEntering) return;
    setWanted(false);
    if (!preview) {
      block.lookAgain();
      return;
    }
    if (failedCount > 0) table.current?.querySelector<HTMLElement>("tr[data-failing] input")?.focus();
    else void takeIn();
  }, [isWanted, isLooking, onTheWay, isEntering]);

  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== "Enter" || !event.ctrlKey) return;
    event.preventDefault();
    // What stands in the field with the focus counts.
    if (document.activeElement instanceof HTMLInputElement) document.activeElement.blur();
    setWanted(true);
  };
  const objective = objectiveById(context, objectiveId);
  const lines = paste.lines.length - (choices.skipFirstLine ? 1 : 0);
  return (
    <Dialog
      title={`Paste ${countedNoun(lines, "line")} of cells`}
      wide
      answersClose
      onClose={isEntering ? null : onClose}
    >
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the keys of the form inside */}
      <div className={styles.paste} onKeyDown={onKeyDown}>
        <p className={styles.preview} role="status">
          {previewWords(preview, isLooking, isEntering, onTheWay)}
        </p>
        {refusal ? <RefusalNotice error={refusal} /> : null}
        {props.reason !== "" || refusal?.code === "sheet.closed" ? (
          <TextField id="paste-reason" label="Reason for changes" value={reason} onChange={setReason} />
        ) : null}
        <div className={styles.choices}>
          <Places paste={paste} choices={choices} onChange={setChoices} />
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={choices.skipFirstLine}
              onChange={(event) => setChoices({ ...choices, skipFirstLine: event.target.checked })}
            />
            <span>The first line holds headings</span>
          </label>
          {takesLabels(paste, choices) && (preview?.newRows ?? 1) > 0 ? (
            <FirstLabel
              label={choices.firstLabel}
              onTake={(firstLabel) => setChoices((before) => ({ ...before, firstLabel }))}
            />
          ) : null}
        </div>
        <PastedColumns
          paste={paste}
          choices={choices}
          preview={preview}
          definition={definition}
          problem={columnProblem}
          onChoose={(index, column) => setChoices(withColumn(choices, index, column))}
        />
        {objective ? (
          <p className={styles.soft}>
            New readings are converted with the objective in use: {objective.position} ·{" "}
            {objectiveWords(objective)}.
          </p>
        ) : null}
        <FailingCells
          problems={problems}
          failing={failing}
          failedCount={failedCount}
          choices={choices}
          columnName={(column) => {
            const chosen = choices.columns[column - 1];
            return chosen ? `column ${column}, ${blockColumnWords(chosen, definition)}` : `column ${column}`;
          }}
          onRemedy={(cells, remedy) => setChoices((before) => withRemedy(before, cells, remedy))}
          table={table}
        />
        <footer className={styles.footer}>
          <Button look="main" autoFocus data-take-in keyHint="Ctrl+Enter" onClick={() => setWanted(true)}>
            {submitWords(preview, isLooking, isEntering)}
          </Button>
          <Button keyHint="Escape" disabled={isEntering} onClick={onClose}>
            Paste nothing
          </Button>
        </footer>
      </div>
    </Dialog>
  );
}

function previewWords(
  preview: BlockPreview | null,
  isLooking: boolean,
  isEntering: boolean,
  onTheWay: number,
): string {
  if (isEntering) return "Taking the block in …";
  if (onTheWay > 0) return `${countedNoun(onTheWay, "entry", "entries")} still on the way: they go first.`;
  if (!preview) return isLooking ? "Looking at the block …" : "Nothing has been stored.";
  const { newRows, filledRows, readings, failedCount, excludedCells } = preview;
  const rows = [
    newRows > 0 ? countedNoun(newRows, "new row") : "",
    filledRows > 0 ? `${countedNoun(filledRows, "row")} changed` : "",
  ].filter((part) => part !== "");
  const parts = [rows.join(", ") || "No row", countedNoun(readings, "reading")];
  if (excludedCells > 0) parts.push(`${countedNoun(excludedCells, "cell")} left out`);
  const fails =
    failedCount === 0
      ? "Every cell can be taken in."
      : `${countedNoun(failedCount, "cell")} cannot be taken in: correct or leave out. Until then nothing is stored.`;
  return `${parts.join(" · ")}. ${fails}`;
}

function submitWords(preview: BlockPreview | null, isLooking: boolean, isEntering: boolean): string {
  if (isEntering) return "Taking in …";
  if (!preview && isLooking) return "Take in";
  if (!preview) return "Look again";
  if (preview.failedCount > 0)
    return preview.failedCount === 1
      ? "Go to the failing cell"
      : `Go to the first of ${preview.failedCount} failing cells`;
  return `Take in ${countedNoun(preview.newRows + preview.filledRows, "row")}`;
}

function problemAtColumn(field: string | null, reason: string): { index: number; reason: string } | null {
  const index = /columns\.(\d+)$/.exec(field ?? "")?.[1];
  return index === undefined ? null : { index: Number(index), reason };
}

/** Taken when the field is left, not with every key: the labels of all lines hang on it. */
function FirstLabel({ label, onTake }: { label: string; onTake: (label: string) => void }) {
  const [typed, setTyped] = useState(label);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: hears that the field inside is left
    <div onBlur={() => onTake(typed)}>
      <TextField
        id="paste-label"
        label="Label of the first new row"
        hint="The labels of the next ones run on from its number; empty: none."
        value={typed}
        onChange={setTyped}
      />
    </div>
  );
}

function Places({
  paste,
  choices,
  onChange,
}: {
  paste: Paste;
  choices: PasteChoices;
  onChange: (choices: PasteChoices) => void;
}) {
  if (paste.cursorAt === null) return null;
  return (
    <ChoiceField
      id="paste-place"
      label="Where it goes"
      value={choices.intoRows ? "rows" : "end"}
      onChange={(value) => onChange({ ...choices, intoRows: value === "rows" })}
      choices={[
        { value: "rows", words: `into the rows from row ${paste.cursorAt} on; what is there is amended` },
        { value: "end", words: "into new rows at the end" },
      ]}
    />
  );
}
