import { type KeyboardEvent, type ReactNode, useLayoutEffect, useRef, useState } from "react";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { FIRST_FOCUS } from "../../window/first-focus.ts";
import { useNavigationState } from "../../window/navigation-context.tsx";
import { Button } from "../Button.tsx";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import styles from "./List.module.css";
import { type ListFilter, ListSearch } from "./ListSearch.tsx";
import { type ListPlaceView, leaveListAt, leftListAt, PAGE } from "./list-place.ts";
import { useRowMenu } from "./use-row-menu.tsx";

/** What can be done with an entry of a list. */
export interface RowAct<Row> {
  readonly words: string;
  /** The letter that does it while the focus is in the row; the first act is done by Enter. */
  readonly letter: string;
  /** Names the button: “Report of S-0001”. */
  readonly nameOf: (row: Row) => string;
  readonly run: (row: Row) => void;
  readonly disabled?: boolean;
}

/** A column that the list can be ordered by carries the name of its order. */
export type ListColumn<Row> = Column<Row> & { readonly sort?: string };

export interface FoundPageProps<Row> {
  readonly at: ListPlaceView;
  readonly caption: string;
  readonly asksFor: string;
  readonly filters: readonly ListFilter[];
  readonly columns: readonly ListColumn<Row>[];
  /** The acts of a row, the usual one first. */
  readonly acts: readonly RowAct<Row>[];
  readonly total: number;
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  /** Said where there is nothing yet. */
  readonly empty: string;
  /** Under the acts of a row: how far one of them is. */
  readonly below?: (row: Row) => ReactNode;
}

/**
 * A page of a long list with its search. Each row is one Tab stop, its first act: arrows go from row to row and from act to
 * act, a letter does an act. Back gives the focus to the row that was gone to.
 */
export function FoundPage<Row>(props: FoundPageProps<Row>) {
  const { at, caption, asksFor, filters, columns, acts, total, rows, rowKey, empty, below } = props;
  const { name, place, change } = at;
  const frame = useRef<HTMLDivElement>(null);
  const { cameBack } = useNavigationState();
  const [left] = useState(() => (cameBack ? leftListAt(name) : null));
  const isLeftHere = left !== null && rows.some((row) => rowKey(row) === left.row);
  useLayoutEffect(() => {
    const main = document.getElementById("main");
    if (left && main) main.scrollTop = left.scroll;
  }, [left]);
  const buttons = (row: number): readonly HTMLButtonElement[] => [
    ...(frame.current?.querySelectorAll<HTMLButtonElement>(`[data-act="${row}"]`) ?? []),
  ];
  const run = (act: RowAct<Row> | undefined, row: Row | undefined): void => {
    if (!act || row === undefined || act.disabled) return;
    leaveListAt(name, rowKey(row));
    act.run(row);
  };
  const { takesMenuKey, onContextMenu, menu } = useRowMenu((at) => {
    const row = rows[at];
    if (row === undefined) return null;
    return {
      label: acts[0]?.nameOf(row) ?? "",
      acts: acts.map((act, place) => ({
        words: act.words,
        keys: place === 0 ? "Enter" : act.letter,
        run: () => run(act, row),
        disabled: act.disabled === true,
      })),
    };
  });
  const answerKey = (event: KeyboardEvent): void => {
    const button = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-act]") : null;
    if (!button || event.ctrlKey || event.altKey || event.metaKey) return;
    const row = Number(button.dataset.act);
    const act = buttons(row).indexOf(button as HTMLButtonElement);
    const byLetter = acts.find(({ letter }) => letter === event.key.toUpperCase());
    const next = nextButton(event.key, buttons, row, act, rows.length);
    if (next) next.focus();
    else if (byLetter) run(byLetter, rows[row]);
    else if (!takesMenuKey(event, button)) return;
    event.preventDefault();
  };
  const sorting = columns.map(({ sort, title, ...column }): Column<Row> => {
    if (sort === undefined) return { ...column, title };
    const isSorted = place.sort === sort;
    const mark = place.descending ? " ↓" : " ↑";
    return {
      ...column,
      ...(isSorted ? { sorted: place.descending ? "descending" : "ascending" } : {}),
      title: (
        <button
          type="button"
          className={styles.sort}
          onClick={() => change({ sort, descending: isSorted ? !place.descending : sort === "number" })}
        >
          {title}
          {isSorted ? <span aria-hidden="true">{mark}</span> : null}
        </button>
      ),
    };
  });
  const buttonOf = (row: Row, act: RowAct<Row>, place: number, shown: ReactNode): ReactNode => (
    <Button
      key={act.words}
      look="quiet"
      aria-label={act.nameOf(row)}
      aria-keyshortcuts={act.letter}
      title={`${act.words} (${place === 0 ? "Enter, " : ""}${act.letter})`}
      data-act={rows.indexOf(row)}
      tabIndex={place === 0 ? 0 : -1}
      disabled={act.disabled}
      {...(place === 0 && isLeftHere && left?.row === rowKey(row) ? { [FIRST_FOCUS]: true } : {})}
      onClick={() => run(act, row)}
    >
      {shown}
    </Button>
  );
  const [only, ...others] = acts;
  // A single act needs no column of its own: what names the row does it.
  const shown: readonly Column<Row>[] =
    only && others.length === 0
      ? sorting.map((column) =>
          column.names ? { ...column, cell: (row) => buttonOf(row, only, 0, column.cell(row)) } : column,
        )
      : [
          ...sorting,
          {
            key: "acts",
            title: "Actions",
            cell: (row) => (
              <span className={styles.acts}>
                {acts.map((act, place) =>
                  buttonOf(row, act, place, <ActWords act={act} first={place === 0} />),
                )}
                {below?.(row)}
              </span>
            ),
          },
        ];
  const isNarrowed = place.words !== "" || Object.values(place.filters).some((value) => value !== "");
  if (total === 0 && !isNarrowed) return <p className={styles.said}>{empty}</p>;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: it hears keys for the buttons of its rows
    <div ref={frame} className={styles.list} onKeyDown={answerKey} onContextMenu={onContextMenu}>
      <ListSearch
        at={at}
        asksFor={asksFor}
        filters={filters}
        found={isNarrowed ? `${total} found` : countedNoun(total, "entry", "entries")}
        takesFocus={!isLeftHere}
        onEnter={() => run(acts[0], rows[0])}
        onDown={() => buttons(0)[0]?.focus()}
      />
      <p className={styles.said}>
        In a row: ↑ ↓ go on, {acts.map(({ words, letter }) => `${letter} ${words}`).join(", ")}
      </p>
      <DataTable
        caption={caption}
        captionHidden
        columns={shown}
        rows={rows}
        rowKey={rowKey}
        empty="Nothing here is as you look for it."
      />
      {menu}
      {total > PAGE ? (
        <div className={styles.pages}>
          <Button disabled={place.skip === 0} onClick={() => change({ skip: place.skip - PAGE })}>
            Earlier page
          </Button>
          <span>
            {place.skip / PAGE + 1} of {Math.ceil(total / PAGE)}
          </span>
          <Button disabled={place.skip + PAGE >= total} onClick={() => change({ skip: place.skip + PAGE })}>
            Next page
          </Button>
        </div>
      ) : null}
    </div>
  );
}

/** In a narrow window the usual act keeps its word and the others show their letter, so that a row stays one line high. */
function ActWords({ act, first }: { act: Pick<RowAct<never>, "words" | "letter">; first: boolean }) {
  return (
    <>
      <span className={first ? undefined : styles.actWords}>{act.words}</span>
      {first ? null : <span className={styles.actLetter}>{act.letter}</span>}
    </>
  );
}

function nextButton(
  key: string,
  buttons: (row: number) => readonly HTMLButtonElement[],
  row: number,
  act: number,
  rows: number,
): HTMLButtonElement | undefined {
  if (key === "ArrowDown") return buttons(row + 1)[act];
  if (key === "ArrowUp") return buttons(row - 1)[act];
  if (key === "ArrowRight") return buttons(row)[act + 1];
  if (key === "ArrowLeft") return buttons(row)[act - 1];
  if (key === "Home") return buttons(0)[act];
  return key === "End" ? buttons(rows - 1)[act] : undefined;
}
