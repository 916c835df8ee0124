import { Button } from "../../../parts/Button.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { RestSettingsForm } from "../../../parts/own/RestSettingsForm.tsx";
import { useViewChoice, type ViewChoice } from "../../../window/view-choices.ts";
import type { MeasureLayout } from "./measure-layout.ts";
import styles from "./view.module.css";

export interface ViewDialogProps {
  readonly method: string;
  readonly layout: MeasureLayout;
  readonly onChange: (part: Partial<MeasureLayout>) => void;
  readonly onClose: () => void;
}

/** What a person chooses for the eyes: columns of this method's sheets, and the reminder to rest. */
export function ViewDialog({ method, layout, onChange, onClose }: ViewDialogProps) {
  return (
    <Dialog title="View and breaks" onClose={onClose}>
      <div className={styles.parts}>
        <fieldset>
          <legend>Columns of sheets by {method}</legend>
          <label className={styles.choice}>
            <input
              type="checkbox"
              checked={layout.stage}
              onChange={(event) => onChange({ stage: event.target.checked })}
            />
            stage coordinates x and y
          </label>
          <label className={styles.choice}>
            <input
              type="checkbox"
              checked={layout.square}
              onChange={(event) => onChange({ square: event.target.checked })}
            />
            square of a finder slide, such as M23
          </label>
          <p className={styles.hint}>
            They come after the readings; Enter goes past one that is left empty. <kbd>Alt+Shift+←</kbd>{" "}
            <kbd>Alt+Shift+→</kbd> make the column of the cursor narrower or wider; so does dragging the line
            right of its heading.
          </p>
          <Button disabled={Object.keys(layout.widths).length === 0} onClick={() => onChange({ widths: {} })}>
            Reset column widths
          </Button>
        </fieldset>
        <fieldset>
          <legend>Room for rows</legend>
          <ViewChoiceField choice="compact" words="compact rows" chord="Alt+C" />
          <ViewChoiceField
            choice="foldedHead"
            words="objective and result folded to one line"
            chord="Alt+H"
          />
          <ViewChoiceField choice="narrowRail" words="narrow rail at the left" chord="Alt+W" />
        </fieldset>
        <fieldset>
          <legend>Rest for the eyes</legend>
          <RestSettingsForm />
        </fieldset>
      </div>
    </Dialog>
  );
}

function ViewChoiceField({
  choice,
  words,
  chord,
}: {
  readonly choice: ViewChoice;
  readonly words: string;
  readonly chord: string;
}) {
  const [isOn, turn] = useViewChoice(choice);
  return (
    <label className={styles.choice}>
      <input type="checkbox" checked={isOn} onChange={turn} />
      {words} <kbd>{chord}</kbd>
    </label>
  );
}
