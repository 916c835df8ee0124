import { useEffect, useRef, useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { Button } from "../../../parts/Button.tsx";
import { EntryTable } from "../../../parts/form/EntryTable.tsx";
import { withoutAt } from "../../../parts/form/form-values.ts";
import { NumberField } from "../../../parts/form/NumberField.tsx";
import type { Form } from "../../../parts/form/use-form.ts";
import { Notice } from "../../../parts/Notice.tsx";
import styles from "./CertificateDetail.module.css";
import {
  type CertificateTyped,
  EMPTY_LINE,
  type Slip,
  slips,
  withPastedLines,
  withSettled,
} from "./certificate-form.ts";

export interface SecondEntryProps {
  readonly form: Form<CertificateTyped>;
  readonly valueTitle: string;
  /** Hides the first entry while the second is typed. */
  readonly blind: boolean;
  readonly onBlind: (blind: boolean) => void;
}

/** The table typed a second time, blind: two entries that differ show a slip, without saying which one it is. */
export function SecondEntry(props: SecondEntryProps) {
  const place = useRef<HTMLDivElement>(null);
  const { second, lines } = props.form.values;
  const step = JSON.stringify([props.blind, second, lines]);
  // The button or field that was just used goes away with its step: go on at what stands in its place.
  // biome-ignore lint/correctness/useExhaustiveDependencies: runs when another step is shown
  useEffect(() => {
    if (document.activeElement === document.body) place.current?.focus();
  }, [step]);
  return (
    <div ref={place} tabIndex={-1}>
      <Steps {...props} />
    </div>
  );
}

function Steps({ form, valueTitle, blind, onBlind }: SecondEntryProps) {
  const { second, lines } = form.values;
  if (second === null) {
    return (
      <p>
        <Button
          onClick={() => {
            form.set("second", [EMPTY_LINE, EMPTY_LINE]);
            onBlind(true);
          }}
        >
          Enter the table again to check it
        </Button>
      </p>
    );
  }
  if (blind) {
    return (
      <>
        <EntryTable
          caption="Certified lines, second entry"
          columns={[
            { key: "nominal", title: "Marked", unit: "µm", kind: "number" },
            { key: "value", title: valueTitle, unit: "µm", kind: "number" },
          ]}
          rows={second.length}
          rowName={(row) => `Second entry, line ${row + 1}`}
          bind={(row, key, label) => form.bind(`second.${row}.${key}`, label)}
          onAdd={() => form.set("second", [...second, EMPTY_LINE])}
          addWords="Add line"
          onRemove={(row) => form.set("second", withoutAt(second, row))}
          onPaste={(row, column, cells) => form.set("second", withPastedLines(second, row, column, cells))}
          least={2}
          most={2000}
        />
        <p>
          <Button onClick={() => onBlind(false)}>Compare the two entries</Button>{" "}
          <Button
            look="quiet"
            onClick={() => {
              form.set("second", null);
              onBlind(false);
            }}
          >
            Leave the second entry out
          </Button>
        </p>
      </>
    );
  }
  const found = slips(lines, second);
  if (found.length === 0) {
    return <Notice kind="done" live title="Both entries of the table agree." />;
  }
  return (
    <Notice
      kind="care"
      live
      title={`The two entries differ in ${countedNoun(found.length, "place")}.`}
      hint="Look at the certificate itself, and type what stands there."
    >
      <ul className={styles.slips}>
        {found.map((slip) => (
          <SettleSlip
            key={`${slip.row} ${slip.key} ${slip.texts.join(" ")}`}
            slip={slip}
            title={slip.key === "nominal" ? "marked" : valueTitle.toLowerCase()}
            onSettle={(text) => form.change((typed) => withSettled(typed, slip, text))}
          />
        ))}
      </ul>
    </Notice>
  );
}

interface SettleSlipProps {
  readonly slip: Slip;
  readonly title: string;
  readonly onSettle: (text: string) => void;
}

function SettleSlip({ slip, title, onSettle }: SettleSlipProps) {
  const [text, setText] = useState("");
  const [one, other] = slip.texts;
  return (
    <li className={styles.slip}>
      <span>
        Line {slip.row + 1}, {title}: once {one || "nothing"}, once {other || "nothing"}.
      </span>
      <NumberField
        id={`settle-${slip.row}-${slip.key}`}
        label={`Line ${slip.row + 1}, ${title}, as on the certificate`}
        value={text}
        onChange={setText}
        unit="µm"
      />
      <Button onClick={() => onSettle(text)} disabled={text.trim() === ""}>
        Take it for both
      </Button>
    </li>
  );
}
