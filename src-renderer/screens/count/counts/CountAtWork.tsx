import { useCallback, useEffect, useRef, useState } from "react";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { newRequestId } from "../../../bridge/request-id.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { PicturesDialog } from "../../../parts/attachments/PicturesDialog.tsx";
import { Button } from "../../../parts/Button.tsx";
import { useTrainName } from "../../../parts/bench-words/use-train-name.ts";
import { OverdueQuestion } from "../../../parts/calibration/OverdueNotice.tsx";
import { MissingProofNotice } from "../../../parts/people/UnprovenNotice.tsx";
import { wakeSound } from "../../../sound/window-sound.ts";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { useCommand } from "../../../window/use-command.tsx";
import { useWindowTitle } from "../../../window/use-window-title.ts";
import { Biovolumes } from "../biovolumes/Biovolumes.tsx";
import { CountKeyBar } from "../hand/CountKeyBar.tsx";
import { CountPad } from "../hand/CountPad.tsx";
import { CountStatus } from "../hand/CountStatus.tsx";
import { CurrentFieldBar } from "../hand/CurrentFieldBar.tsx";
import { pressOf } from "../hand/counting-keys.ts";
import { FindTaxon } from "../hand/FindTaxon.tsx";
import { leaveToMeasure, rowMeasuredAside } from "../hand/measuring-aside.ts";
import { useCountKeys } from "../hand/use-count-keys.ts";
import { useGoalSound } from "../hand/use-goal-sound.ts";
import { FieldPictureAside } from "../pictures/FieldPictureAside.tsx";
import { useFieldPictures } from "../pictures/use-field-pictures.ts";
import type { CountContext } from "../state/count-context.ts";
import { isRunningHere, type LiveCount, markRunningHere } from "../state/live-counts.ts";
import { useLiveResults } from "../state/use-live-results.ts";
import { ClosedCount } from "./ClosedCount.tsx";
import styles from "./CountAtWork.module.css";
import { CountDialogs, type CountQuestion } from "./CountDialogs.tsx";
import { ResultPanel } from "./ResultPanel.tsx";
import { ScatterDetails } from "./ScatterDetails.tsx";

export interface CountAtWorkProps {
  readonly context: CountContext;
  readonly live: LiveCount;
  /** Fetches the count anew, after an act that changes what stands around it. */
  readonly onReload: () => void;
}

/** One count: what the hand has counted above, the pad and what it comes to below. */
export function CountAtWork({ context, live, onReload }: CountAtWorkProps) {
  const { store } = live;
  const client = useClient();
  const navigation = useNavigation();
  const count = useLivePart(store, (state) => state.count);
  const [question, setQuestion] = useState<CountQuestion | null>(null);
  const results = useLiveResults(store, context);
  const clock = useClock(live);
  const takeRow = useRowMeasuredAside(live, count.id);
  const { definition, version } = context.method;
  const cautions = [...definition.cautions, ...count.trainCautions];

  const measure = useCallback(() => {
    const { id, linkedSheetId } = store.state().count;
    if (linkedSheetId === null) {
      setQuestion("link");
      return;
    }
    void store.settled().then(async () => {
      if (await leaveToMeasure(client, id, linkedSheetId)) {
        navigation.go({ screen: "measure", sheetId: linkedSheetId });
      }
    });
  }, [store, client, navigation]);
  const search = useSearch();
  const pictures = useFieldPictures(store, count.state !== "closed");
  const hand = useCountKeys({
    store,
    counting: clock.counting,
    onMeasure: measure,
    onFind: search.open,
    takeRow,
  });
  useGoalSound(results, count.state === "counting");
  useWindowOfCount(live, `${count.number} ${count.sample}`);

  if (count.state === "closed") return <ClosedCount context={context} live={live} onReload={onReload} />;
  return (
    <section className={styles.screen} aria-label={`Count ${count.number}`} {...pictures.dropping}>
      <header className={styles.countLine}>
        <h1 className={styles.countName}>
          {count.number} · {count.sample}
        </h1>
        <p className={styles.soft}>
          {definition.name}, version {version}
          <TrainWords trainId={count.trainId} frozen={count.calibrationId !== null} />
        </p>
        <Button
          look="quiet"
          onClick={() => navigation.go({ screen: "count", part: "counts", recordId: null })}
        >
          All counts
        </Button>
        <div className={styles.acts}>
          <Button look="main" keyHint="F7" onClick={clock.toggle}>
            {clock.counting ? "Pause" : "Resume"}
          </Button>
          <Button onClick={() => setQuestion("close")}>Close the count …</Button>
          <Button
            disabled={clock.counting}
            title={clock.counting ? "Locked while counting: pause first." : undefined}
            onClick={() => setQuestion("keys")}
          >
            Change keys …
          </Button>
          <Button onClick={() => setQuestion("inputs")}>Inputs …</Button>
          <Button onClick={() => setQuestion("link")}>Linked sheet …</Button>
          <Button
            onClick={({ currentTarget }) => {
              // Counting goes on at once behind it: Enter is the next field then, and not this button again.
              currentTarget.blur();
              setQuestion("position");
            }}
          >
            Position …
          </Button>
          <Button onClick={() => setQuestion("sound")}>Sound …</Button>
          {definition.fibreRuleId ? (
            <Button onClick={() => setQuestion("fibres")}>Fibre rules …</Button>
          ) : null}
        </div>
      </header>
      <CurrentFieldBar store={store} prefix={hand.prefix} interrupted={clock.interrupted} />
      {search.isOpen ? (
        <FindTaxon
          store={store}
          lastFound={search.lastFound}
          onTake={(category) => {
            search.take(category.key);
            hand.run(pressOf(category, hand.prefix));
          }}
          onLeave={search.close}
        />
      ) : null}
      <CountStatus store={store} />
      <div className={styles.columns}>
        <div className={styles.left}>
          <CountPad store={store} hand={hand} counting={clock.counting} />
          <CountKeyBar />
        </div>
        <div className={styles.right}>
          {pictures.shown.length > 0 ? <FieldPictureAside store={store} pictures={pictures.shown} /> : null}
          <Cautions cautions={cautions} />
          <MissingProofNotice work="count" id={count.id} />
          <OverdueQuestion work="count" workId={count.id} />
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the results scroll, so they must be reached by keyboard */}
          <section className={styles.scroll} aria-label="Results so far" tabIndex={0}>
            <ResultPanel
              results={results}
              definition={definition}
              categories={count.categories}
              saidElsewhere={cautions}
              scatter={<ScatterDetails store={store} />}
            >
              <Biovolumes
                count={count}
                results={results}
                definition={definition}
                onChanged={(next) => store.dispatch({ type: "count", count: next })}
              />
            </ResultPanel>
          </section>
        </div>
      </div>
      <CountDialogs
        question={question}
        context={context}
        live={live}
        onClose={() => setQuestion(null)}
        onReload={onReload}
        onPictures={() => {
          setQuestion(null);
          pictures.ask(null);
        }}
      />
      {pictures.asked ? (
        <PicturesDialog
          {...pictures.asked}
          pictures={pictures.all}
          onKept={pictures.kept}
          onClose={pictures.close}
        />
      ) : null}
    </section>
  );
}

function TrainWords({ trainId, frozen }: { trainId: string | null; frozen: boolean }) {
  const trainName = useTrainName();
  if (trainId === null) return null;
  return (
    <>
      {" · "}
      {trainName(trainId)}
      {frozen ? "" : " · no factor in force"}
    </>
  );
}

/** What the method says must be borne in mind, always in sight. */
function Cautions({ cautions }: { cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <ul className={styles.cautions} aria-label="Cautions">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}

interface Clock {
  /** Keys are taken. */
  readonly counting: boolean;
  /** Marked as running, but not by this window: left by a crash. */
  readonly interrupted: boolean;
  readonly toggle: () => void;
}

interface Search {
  readonly isOpen: boolean;
  /** Key of the category found last. */
  readonly lastFound: string | null;
  readonly open: () => void;
  readonly close: () => void;
  readonly take: (key: string) => void;
}

function useSearch(): Search {
  const [isOpen, setOpen] = useState(false);
  const [lastFound, setLastFound] = useState<string | null>(null);
  const open = useCallback(() => setOpen(true), []);
  const close = useCallback(() => setOpen(false), []);
  const take = useCallback((key: string) => {
    setLastFound(key);
    setOpen(false);
  }, []);
  return { isOpen, lastFound, open, close, take };
}

/** Pause and go on, F7. What waits is stored first, so that no press falls behind the pause. */
function useClock({ store }: LiveCount): Clock {
  const client = useClient();
  const state = useLivePart(store, (one) => one.count.state);
  const countId = store.state().count.id;
  const [here, setHere] = useState(() => isRunningHere(client, countId));
  const [busy, setBusy] = useState(false);
  // The count may be fetched anew while the answer is on its way: it belongs to the one that is shown then.
  const latest = useRef(store);
  useEffect(() => {
    latest.current = store;
  }, [store]);
  const counting = state === "counting" && here && !busy;
  const toggle = useCallback((): void => {
    setBusy(true);
    const act = counting ? "counts.pause" : "counts.resume";
    void store
      .settled()
      .then(() => client(act, { requestId: newRequestId(), countId }))
      .then((reply) => {
        setBusy(false);
        if (!reply.ok) {
          latest.current.dispatch({ type: "remark", text: reply.error.message, kind: "care" });
          return;
        }
        latest.current.dispatch({ type: "count", count: reply.value });
        if (reply.value.state !== "counting") return;
        markRunningHere(client, countId);
        setHere(true);
      });
  }, [client, store, countId, counting]);
  useCommand("count.pause", state === "closed" || busy ? null : toggle);
  return { counting, interrupted: state === "counting" && !here, toggle };
}

/** The row measured while the count was left goes with the next press. */
function useRowMeasuredAside({ store }: LiveCount, countId: string): () => string | null {
  const client = useClient();
  const row = useRef<string | null>(null);
  useEffect(() => {
    void rowMeasuredAside(client, countId).then((found) => {
      if (!found) return;
      row.current = found.rowId;
      const text = `Row ${found.ordinal} was measured: the next press is that object.`;
      store.dispatch({ type: "remark", text, kind: "note" });
    });
  }, [client, store, countId]);
  return useCallback(() => {
    const taken = row.current;
    row.current = null;
    return taken;
  }, []);
}

function useWindowOfCount({ store }: LiveCount, title: string): void {
  useEffect(wakeSound, []);
  useWindowTitle(title);
  useEffect(() => {
    // Keys are heard by the whole window; a focus left on a button would keep Enter for itself.
    if (document.activeElement instanceof HTMLElement && store.state().count.state !== "closed") {
      document.activeElement.blur();
    }
  }, [store]);
}
