import { useCallback, useMemo, useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { SecondReading, SecondReadingRow } from "#core/contract/records/second-reading.ts";
import { errorWords } from "#core/contract/reply.ts";
import { placeWords } from "#core/measurement/place-words.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { EntryGrid } from "../../../grid/EntryGrid.tsx";
import { isAllRead } from "../../../grid/given-rows.ts";
import { answerKey } from "../../../grid/grid-keys.ts";
import { GridStore } from "../../../grid/grid-store.ts";
import type { KeyFacts } from "../../../grid/key-facts.ts";
import { useFlushOnLeaving } from "../../../grid/use-flush-on-leaving.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { ResultFigure } from "../../../parts/bench-words/ResultFigure.tsx";
import { KeyLine } from "../../../parts/KeyLine.tsx";
import { Dialog } from "../../../parts/layout/Dialog.tsx";
import { NumberedChoices } from "../../../parts/layout/NumberedChoices.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../MeasureScreen.module.css";
import { StatusStrip } from "../StatusStrip.tsx";
import { objectiveById, type SheetContext } from "../sheet-context.ts";
import { useMeasureSound } from "../use-measure-sound.ts";
import { blindModel } from "./blind-model.tsx";
import { givenGrid } from "./given-grid.ts";
import { linkSecondReading } from "./second-reading-link.ts";

/** Acts of the sheet that have no place in a second reading. */
const NOT_HERE = new Set(["goTo", "repeatLabel", "askStrike", "undo", "redo", "extend", "select"]);
const MENU = [
  { key: "close", words: "Close it and compare the two readings" },
  { key: "later", words: "Go on later" },
] as const;
const NO_WIDTHS = {};

export interface SecondReadingAtWorkProps {
  readonly context: SheetContext;
  readonly reading: SecondReading;
  readonly rows: readonly SecondReadingRow[];
  /** What was half-typed when the window went away. */
  readonly drafts: CallOutput<"secondReadings.get">["drafts"];
  readonly onClosed: () => void;
}

/** The blind reading: the keypad loop of the sheet over the rows given, without anything that was read before. */
export function SecondReadingAtWork({ context, reading, rows, drafts, onClosed }: SecondReadingAtWorkProps) {
  const client = useClient();
  const navigation = useNavigation();
  const [isAsking, setAsking] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const { sheet } = context;
  const [{ store, link }] = useState(() => {
    const made = new GridStore(givenGrid(context, rows), () => crypto.randomUUID());
    const link = linkSecondReading(client, made, { secondReadingId: reading.id, sheetId: sheet.id });
    made.dispatch({ type: "draftsArrived", drafts: drafts.map((one) => ({ sheetId: sheet.id, ...one })) });
    return { store: made, link };
  });
  useFlushOnLeaving(store, link.flush);
  const model = useMemo(() => blindModel(context), [context]);
  useMeasureSound(store, context, null);
  const takesKey = useCallback(
    (facts: KeyFacts): boolean => {
      const state = store.state();
      const action = answerKey(state, facts)?.action;
      if (!action) return false;
      const wantsMenu =
        action.type === "turretOpen" || (action.type === "take" && action.onward === "turret");
      const isDone = action.type === "open" && facts.key === "Enter" && isAllRead(state);
      if (action.type === "take" && wantsMenu) store.dispatch({ type: "take", onward: "stay" });
      if (wantsMenu || isDone) setAsking(true);
      return wantsMenu || isDone || NOT_HERE.has(action.type);
    },
    [store],
  );
  const answer = async (key: string): Promise<void> => {
    setAsking(false);
    if (key === "later") {
      navigation.go({ screen: "bench" });
      return;
    }
    const input = { requestId: newRequestId(), secondReadingId: reading.id };
    const reply = await client("secondReadings.close", input);
    if (reply.ok) onClosed();
    else setProblem(errorWords(reply.error));
  };
  return (
    <section className={styles.screen} aria-label={`Second reading of sheet ${sheet.number}`}>
      <header className={styles.sheetLine}>
        <h1 className={styles.sheetName}>
          Second reading {reading.number} of {sheet.number} · {sheet.sample}
        </h1>
        <p className={styles.soft}>
          {reading.choice.kind === "rows" ? "rows chosen by number" : `drawn with the seed ${reading.id}`}
          {reading.sameReader ? " · you took some of the first readings too" : ""}
        </p>
      </header>
      <div className={styles.band}>
        <WhereNow store={store} rows={rows} context={context} />
        <OwnResult store={store} rows={rows} />
      </div>
      {problem ? <p role="alert">{problem}</p> : null}
      <StatusStrip store={store} stored={`${rows.length} rows to read`} />
      <div className={styles.workPlace}>
        <div className={styles.gridPlace}>
          <EntryGrid
            store={store}
            model={model}
            widths={NO_WIDTHS}
            onWidth={() => undefined}
            takesKey={takesKey}
          />
        </div>
      </div>
      <KeyLine folds entries={BLIND_KEYS} />
      {isAsking ? (
        <Dialog title="This second reading" onClose={() => setAsking(false)}>
          <Unread store={store} />
          <NumberedChoices
            choices={MENU}
            onChoose={(key) => void answer(key)}
            onLeave={() => setAsking(false)}
            autoFocus
          />
        </Dialog>
      ) : null}
    </section>
  );
}

const BLIND_KEYS = [
  { id: "take", keys: ["Enter"], words: "take the reading; when all are there: close" },
  { id: "next", keys: ["+"], words: "next specimen" },
  { id: "back", keys: ["-"], words: "step back" },
  { id: "close", keys: ["/"], words: "close, or go on later" },
  { id: "cancel", keys: ["Escape"], words: "cancel the edit" },
];

function Unread({ store }: { store: GridStore }) {
  return isAllRead(store.state()) ? (
    <p>Every reading is there.</p>
  ) : (
    <p>Not every row is read yet: what is not read is left out of the comparison.</p>
  );
}

/** The second reader's own last result, under the number its row has on the sheet. */
function OwnResult({ store, rows }: { store: GridStore; rows: readonly SecondReadingRow[] }) {
  const last = useLivePart(store, (state) => state.lastResult);
  const measured = last?.row.measurements.find((one) => one.dimension === last.dimension);
  const ordinal = rows.find((one) => one.rowId === last?.row.id)?.ordinal;
  return (
    <section className={styles.result} aria-label="Last result" aria-live="polite">
      <ResultFigure
        label={ordinal === undefined ? "Last result" : `Row ${ordinal}`}
        value={measured ? (measured.size?.shownValue ?? measured.divisions) : null}
        uncertainty={measured?.size?.shownUncertainty}
        unit={measured && !measured.size ? "div" : "µm"}
        missing="No result yet in this session"
      />
    </section>
  );
}

/** Which specimen comes now and with which objective it was read first. */
function WhereNow({
  store,
  rows,
  context,
}: {
  store: GridStore;
  rows: readonly SecondReadingRow[];
  context: SheetContext;
}) {
  const at = useLivePart(store, (state) => state.cursor.row);
  const dimension = useLivePart(store, (state) => {
    const column = state.columns[state.cursor.column];
    return column && "dimension" in column ? column.dimension : null;
  });
  const row = rows[at];
  if (!row) return null;
  const wanted = row.dimensions.find((one) => one.dimension === dimension) ?? row.dimensions[0];
  const train = context.trains.find((one) => one.train.id === wanted?.trainId)?.train;
  const objective = train ? objectiveById(context, train.objectiveId) : undefined;
  return (
    <section aria-label="Specimen to read" aria-live="polite">
      <p className={styles.factor}>
        Row {row.ordinal}
        {row.label ? ` · ${row.label}` : ""}
      </p>
      <p className={styles.optics}>
        with{" "}
        <strong>{objective ? `${objective.position} · ${objectiveWords(objective)}` : "its train"}</strong>
      </p>
      <p className={styles.small}>
        {at + 1} of {rows.length}
        {row.stage ? ` · ${placeWords(row.stage)}` : ""}
      </p>
    </section>
  );
}
