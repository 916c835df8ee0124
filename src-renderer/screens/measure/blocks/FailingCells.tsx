import { type RefObject, useState } from "react";
import type { FailedCell } from "#core/contract/records/block.ts";
import { Button } from "../../../parts/Button.tsx";
import fieldStyles from "../../../parts/Field.module.css";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "./Blocks.module.css";
import { type PasteChoices, placeOf, type Remedy, remedyOf } from "./paste-choices.ts";

/** Cells listed at a time: a wrong column can fail ten thousand times. */
const MOST_LISTED = 60;

export interface FailingCellsProps {
  /** Cells that fail or have failed, in the order of the paste. */
  readonly problems: readonly FailedCell[];
  /** Places that still fail. */
  readonly failing: ReadonlySet<string>;
  readonly failedCount: number;
  readonly choices: PasteChoices;
  readonly columnName: (column: number) => string;
  readonly onRemedy: (cells: readonly FailedCell[], remedy: Remedy) => void;
  readonly table: RefObject<HTMLTableElement | null>;
}

/** Every cell that cannot be taken in, why, and what is to become of it. */
export function FailingCells(props: FailingCellsProps) {
  const { problems, failing, failedCount, choices, onRemedy, table } = props;
  if (problems.length === 0) return null;
  const isFailing = (cell: FailedCell): boolean => failing.has(placeOf(cell.line, cell.column));
  const open = problems.filter(isFailing);
  const listed = problems.length <= MOST_LISTED ? problems : open.slice(0, MOST_LISTED);
  const dealtWith = problems.filter((cell) => remedyOf(choices, cell) !== null);
  const leaveOut = (remedy: Remedy): void => {
    onRemedy(open, remedy);
    takeInButton(table.current)?.focus();
  };
  return (
    <section className={styles.failures} aria-label="Cells that fail">
      {open.length > 1 ? (
        <p className={styles.answers}>
          <Button onClick={() => leaveOut("cell left out")}>{allWords(open, failedCount, "cells")}</Button>
          <Button onClick={() => leaveOut("line left out")}>{allWords(open, failedCount, "lines")}</Button>
        </p>
      ) : null}
      <table ref={table} className={styles.table}>
        <caption>
          Cells that cannot be taken in
          {listed.length < problems.length
            ? `: ${listed.length} listed, the next come up as these are dealt with`
            : ""}
        </caption>
        <thead>
          <tr>
            <th scope="col" className={styles.number}>
              Line
            </th>
            <th scope="col">Column</th>
            <th scope="col">Text</th>
            <th scope="col">What is wrong</th>
            <th scope="col">
              <span className={styles.hidden}>What to do with it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {listed.map((cell) => (
            <FailingRow
              key={placeOf(cell.line, cell.column)}
              cell={cell}
              isFailing={isFailing(cell)}
              {...props}
            />
          ))}
        </tbody>
      </table>
      {dealtWith.length > 1 ? (
        <p>
          <Button
            look="quiet"
            onClick={() => {
              onRemedy(dealtWith, null);
              table.current?.querySelector("input")?.focus();
            }}
          >
            Take all {dealtWith.length} decisions back
          </Button>
        </p>
      ) : null}
    </section>
  );
}

function allWords(open: readonly FailedCell[], failedCount: number, what: "cells" | "lines"): string {
  const which = open.length < failedCount ? `the first ${open.length} cells` : `all ${open.length} cells`;
  return what === "cells" ? `Leave out ${which}` : `Leave out the lines of ${which}`;
}

interface FailingRowProps extends FailingCellsProps {
  readonly cell: FailedCell;
  readonly isFailing: boolean;
}

function FailingRow({ cell, isFailing, choices, columnName, onRemedy, table }: FailingRowProps) {
  const remedy = remedyOf(choices, cell);
  const [typed, setTyped] = useState(cell.text);
  const name = `Line ${cell.line}, ${columnName(cell.column)}`;
  const id = `paste-${cell.line}-${cell.column}`;
  const isOut = remedy === "cell left out" || remedy === "line left out";
  const corrected = remedy !== null && typeof remedy === "object" ? remedy.corrected : cell.text;
  const take = (): void => {
    const text = typed.trim();
    if (!isOut && text !== corrected) onRemedy([cell], text === cell.text ? null : { corrected: text });
  };
  return (
    <tr data-failing={isFailing || undefined}>
      <td className={styles.number}>{cell.line}</td>
      <td>{columnName(cell.column)}</td>
      <td>
        <input
          className={fieldStyles.control}
          aria-label={`${name}, correction`}
          aria-invalid={isFailing || undefined}
          aria-describedby={id}
          autoComplete="off"
          spellCheck={false}
          value={isOut ? cell.text : typed}
          readOnly={isOut}
          onChange={(event) => setTyped(event.target.value)}
          onBlur={take}
          onKeyDown={(event) => {
            if (event.key !== "Enter" || event.ctrlKey) return;
            event.preventDefault();
            take();
            nextField(table.current, event.currentTarget)?.focus();
          }}
        />
      </td>
      <td id={id}>{isFailing ? <Wrong reason={cell.reason} /> : <Dealt remedy={remedy} />}</td>
      <td className={styles.decide}>
        {remedy === null || isFailing ? (
          <>
            <Button
              look="quiet"
              aria-label={`Leave cell out: ${name}`}
              onClick={({ currentTarget }) => {
                onRemedy([cell], "cell left out");
                nextField(table.current, currentTarget)?.focus();
              }}
            >
              Leave cell out
            </Button>
            <Button
              look="quiet"
              aria-label={`Leave line out: line ${cell.line}`}
              onClick={({ currentTarget }) => {
                onRemedy([cell], "line left out");
                nextField(table.current, currentTarget)?.focus();
              }}
            >
              Leave line out
            </Button>
          </>
        ) : (
          <Button
            look="quiet"
            aria-label={`Take back: ${name}`}
            onClick={({ currentTarget }) => {
              setTyped(cell.text);
              onRemedy([cell], null);
              currentTarget.closest("tr")?.querySelector("input")?.focus();
            }}
          >
            Take back
          </Button>
        )}
      </td>
    </tr>
  );
}

function Wrong({ reason }: { reason: string }) {
  return (
    <span className={styles.wrong}>
      <StateMark state="bad" /> {reason}
    </span>
  );
}

function Dealt({ remedy }: { remedy: Remedy }) {
  const words =
    remedy !== null && typeof remedy === "object" ? "corrected" : (remedy ?? "can be taken in now");
  return (
    <span className={styles.dealt}>
      <StateMark state="good" /> {words}
    </span>
  );
}

/** The field of the next row that fails; behind the last one the button that takes the block in. */
function nextField(table: HTMLElement | null, from: HTMLElement): HTMLElement | null {
  const own = from.closest("tr");
  const rows = [...(table?.querySelectorAll<HTMLElement>("tbody tr") ?? [])];
  const behind = rows.slice(own ? rows.indexOf(own as HTMLTableRowElement) + 1 : 0);
  const next = behind.find((row) => row.dataset.failing === "true");
  return next?.querySelector<HTMLElement>("input") ?? takeInButton(table);
}

function takeInButton(table: HTMLElement | null): HTMLElement | null {
  return table?.closest("dialog")?.querySelector<HTMLElement>("[data-take-in]") ?? null;
}
