import { useCallback, useEffect, useMemo, useState, useSyncExternalStore } from "react";
import type { Method } from "#core/contract/records/method.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { EntryGrid } from "../../grid/EntryGrid.tsx";
import { columnsFor } from "../../grid/grid-columns.ts";
import type { RowsToStrike } from "../../grid/grid-effect.ts";
import { objectiveInUse } from "../../grid/grid-state.ts";
import type { KeyFacts } from "../../grid/key-facts.ts";
import { useFlushOnLeaving } from "../../grid/use-flush-on-leaving.ts";
import { useLivePart } from "../../live/use-live-part.ts";
import { PicturesDialog } from "../../parts/attachments/PicturesDialog.tsx";
import { Button } from "../../parts/Button.tsx";
import { today } from "../../parts/bench-words/today.ts";
import { OverdueQuestion } from "../../parts/calibration/OverdueNotice.tsx";
import { ConvertRowsDialog, convertedWords } from "../../parts/form/ConvertRowsDialog.tsx";
import { useReasons } from "../../parts/form/use-reasons.ts";
import { Dialog } from "../../parts/layout/Dialog.tsx";
import { MissingProofNotice } from "../../parts/people/UnprovenNotice.tsx";
import { SoundSettingsForm } from "../../sound/SoundSettingsForm.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { useCommand } from "../../window/use-command.tsx";
import { useWindowTitle } from "../../window/use-window-title.ts";
import { useViewChoice } from "../../window/view-choices.ts";
import { Blocks } from "./blocks/Blocks.tsx";
import { ClosedSheetLine } from "./ClosedSheetLine.tsx";
import { ExplainStrip } from "./explain/ExplainStrip.tsx";
import { useLabelHistories } from "./explain/use-explained-row.ts";
import { FindRowDialog } from "./find/FindRowDialog.tsx";
import { useFindRow } from "./find/use-find-row.ts";
import { FindingsFeed } from "./findings/findings-feed.ts";
import { SheetFindingLines } from "./findings/SheetFindingLines.tsx";
import { KeyBar } from "./KeyBar.tsx";
import { SheetMenu } from "./keypad/SheetMenu.tsx";
import { useKeypadActs } from "./keypad/use-keypad-acts.ts";
import { LivePanel } from "./LivePanel.tsx";
import { ViewDialog } from "./layout/ViewDialog.tsx";
import { useWindowLayout } from "./layout/window-layouts.ts";
import type { LiveSheet } from "./live-sheets.ts";
import styles from "./MeasureScreen.module.css";
import { measureModel } from "./measure-model.tsx";
import { ObjectiveHead } from "./ObjectiveHead.tsx";
import { RowPictureAside } from "./pictures/RowPictureAside.tsx";
import { useRowPictures } from "./pictures/use-row-pictures.ts";
import { PositionsDialog } from "./places/PositionsDialog.tsx";
import { ResultHead } from "./ResultHead.tsx";
import { RestReminder } from "./rest/RestReminder.tsx";
import { StatusStrip } from "./StatusStrip.tsx";
import { StrikeDialog } from "./StrikeDialog.tsx";
import { SummaryHead } from "./SummaryHead.tsx";
import type { SheetContext } from "./sheet-context.ts";
import { SummaryFeed } from "./summary-feed.ts";
import { TrainDialogs } from "./train/TrainDialogs.tsx";
import { TrainQuestion } from "./train/TrainQuestion.tsx";
import { useEyesAtTrain } from "./train/use-eyes-at-train.ts";
import { useTrainWatch } from "./train/use-train-watch.ts";
import { useMeasureSound } from "./use-measure-sound.ts";
import { useRowActs } from "./use-row-acts.ts";
import { useTraceKey } from "./use-trace-key.ts";

/** From this width of the window on, px, the panel has room beside the grid. */
const WIDE = 1500;

/** One sheet being measured: what is in use and what came out last above, the grid below. */
export function SheetAtWork({
  context,
  live,
  onTrainChanged,
}: {
  context: SheetContext;
  live: LiveSheet;
  /** The changer has another setting than `context` says, set here or in another window. */
  onTrainChanged: () => Promise<void>;
}) {
  const { sheet, method } = context;
  const navigation = useNavigation();
  const [striking, setStriking] = useState<RowsToStrike | null>(null);
  const strikeReasons = useReasons("strike");
  const [hearing, setHearing] = useState(false);
  const person = useCall("bench.status", {}).data?.personInUse ?? null;
  const { watch, problem } = useTrainWatch(live.store, context, person);
  const [isMenu, setMenu] = useState(false);
  const [converting, setConverting] = useState(false);
  const [asking, setAsking] = useState<"changer" | "eyes" | null>(null);
  const objectiveId = useLivePart(live.store, objectiveInUse);
  const eyes = useEyesAtTrain(context, objectiveId, person);
  const keypadKey = useKeypadActs(
    live.store,
    useCallback(() => setMenu(true), []),
    useCallback(() => setAsking("changer"), []),
  );
  useChangerElsewhere(live, sheet.intermediateMagnification, onTrainChanged);
  const takesKey = useCallback(
    (facts: KeyFacts): boolean => watch.key(facts, live.store.state()) || keypadKey(facts),
    [watch, live, keypadKey],
  );
  const histories = useLabelHistories(sheet.id);
  const feed = useSummaryFeed(live, sheet.id);
  const findings = useMemo(
    () => new FindingsFeed(feed, live.store, context, histories),
    [feed, live, context, histories],
  );
  useEffect(() => findings.follow(), [findings]);
  const found = useSyncExternalStore(findings.subscribe, findings.current);
  const day = today();
  const around = useMemo(
    () => ({ context, personId: person?.id ?? null, today: day, histories, findings: found }),
    [context, person?.id, day, histories, found],
  );
  const { layout, change, setWidth } = useSheetLayout(live, method);
  const [viewing, setViewing] = useState(false);
  useCommand("measure.view", () => setViewing(true));
  const [isCompact, turnDensity] = useViewChoice("compact");
  const [isFolded, turnHead] = useViewChoice("foldedHead");
  useCommand("cells.compact", turnDensity);
  useCommand("cells.head", turnHead);
  const rowActs = useRowActs(sheet.id);
  const find = useFindRow(live.store, feed, context);
  const pictures = useRowPictures(live.store, sheet.id);
  const [isMap, setMap] = useState(false);
  useCommand("measure.positions", () => setMap(true));
  const columns = useLivePart(live.store, (state) => state.columns);
  const model = useMemo(() => measureModel(around, columns), [around, columns]);
  const [isPanelOpen, setPanelOpen] = useState(() => window.innerWidth >= WIDE);
  useCommand("measure.panel", () => setPanelOpen(!isPanelOpen));
  useLiveSheet(live, setStriking);
  useEffect(() => live.elsewhere.follow(), [live]);
  useTraceKey(live.store);
  useMeasureSound(live.store, context, findings);
  useCommand("measure.sound", () => setHearing(true));
  useWindowTitle(`${sheet.number} ${sheet.sample}`);

  return (
    <section
      className={styles.screen}
      data-folded={isFolded || undefined}
      data-compact={isCompact || undefined}
      aria-label={`Measure, sheet ${sheet.number}`}
    >
      <header className={styles.sheetLine}>
        <h1 className={styles.sheetName}>
          {sheet.number} · {sheet.sample}
        </h1>
        <p className={styles.soft}>
          {method.definition.name}, version {method.version} · {context.microscope.name} · entered by{" "}
          {person?.name ?? "nobody yet"}
        </p>
        <RestReminder />
        <Button look="quiet" onClick={() => navigation.go({ screen: "measure", sheetId: null })}>
          All sheets
        </Button>
      </header>
      <ClosedSheetLine sheetId={sheet.id} link={live.link} />
      <MissingProofNotice work="sheet" id={sheet.id} />
      <OverdueQuestion work="sheet" workId={sheet.id} />
      <div className={styles.band}>
        <ObjectiveHead store={live.store} context={context} />
        <ResultHead store={live.store} context={context} findings={findings} />
        {isPanelOpen ? null : <SummaryHead store={live.store} context={context} feed={feed} />}
      </div>
      <TrainQuestion
        store={live.store}
        context={context}
        person={person}
        eyes={eyes}
        watch={watch}
        problem={problem}
        onEyes={() => setAsking("eyes")}
      />
      <StatusStrip store={live.store}>
        <Blocks live={live} context={context} onPicture={pictures.ask} />
      </StatusStrip>
      <SheetFindingLines findings={findings} />
      <div className={styles.workPlace}>
        <div className={styles.gridPlace} {...pictures.dropping}>
          <EntryGrid
            key={isCompact ? "compact" : "normal"}
            density={isCompact ? "compact" : "normal"}
            store={live.store}
            model={model}
            widths={layout.widths}
            onWidth={setWidth}
            takesKey={takesKey}
            acts={rowActs}
          />
        </div>
        {pictures.shown.length > 0 ? <RowPictureAside store={live.store} pictures={pictures.shown} /> : null}
        {isPanelOpen ? <LivePanel store={live.store} context={context} feed={feed} /> : null}
      </div>
      <div className={styles.beneath}>
        <ExplainStrip store={live.store} feed={feed} around={around} />
        <KeyBar />
      </div>
      {viewing ? (
        <ViewDialog
          method={method.definition.name}
          layout={layout}
          onChange={change}
          onClose={() => setViewing(false)}
        />
      ) : null}
      {find.isOpen ? (
        <FindRowDialog
          rows={find.rows}
          total={live.store.state().total}
          onGo={find.go}
          onClose={find.close}
        />
      ) : null}
      {pictures.asked ? (
        <PicturesDialog
          {...pictures.asked}
          pictures={pictures.all}
          onKept={pictures.kept}
          onClose={pictures.close}
        />
      ) : null}
      {isMap ? (
        <PositionsDialog
          sheetId={sheet.id}
          here={live.store.state().cursor.row + 1}
          onGo={(ordinal) => {
            setMap(false);
            find.go(ordinal);
          }}
          onClose={() => setMap(false)}
        />
      ) : null}
      {isMenu ? (
        <SheetMenu
          sheetId={sheet.id}
          onPictures={() => pictures.ask(null)}
          onPositions={() => setMap(true)}
          onConfirmTrain={() => watch.ask("opened")}
          onConvert={() => setConverting(true)}
          onEyes={() => setAsking("eyes")}
          onClose={() => setMenu(false)}
        />
      ) : null}
      <TrainDialogs
        open={asking}
        store={live.store}
        context={context}
        objectiveId={objectiveId}
        person={person}
        eyes={eyes}
        onTrainChanged={onTrainChanged}
        onConfirmed={() => watch.answered()}
        onClose={() => setAsking(null)}
      />
      {converting ? (
        <ConvertRowsDialog
          sheetId={sheet.id}
          rows={{ from: 1, to: Math.max(1, live.store.state().total) }}
          what="every row of this sheet"
          onConverted={(changed) => {
            setConverting(false);
            live.store.dispatch({ type: "rowsChanged", changed, words: convertedWords(changed) });
          }}
          onClose={() => setConverting(false)}
        />
      ) : null}
      {hearing ? (
        <Dialog title="Sound" onClose={() => setHearing(false)}>
          <SoundSettingsForm tryTone="taken" />
        </Dialog>
      ) : null}
      {striking ? (
        <StrikeDialog
          rows={striking}
          sheetId={sheet.id}
          store={live.store}
          reasons={strikeReasons}
          onClose={() => setStriking(null)}
        />
      ) : null}
    </section>
  );
}

/** Follows a changer that was set in another window. */
function useChangerElsewhere(live: LiveSheet, known: string, onTrainChanged: () => Promise<void>): void {
  useEffect(() => {
    live.elsewhere.onChanger = (setting) => {
      if (setting !== known) void onTrainChanged();
    };
    return () => {
      live.elsewhere.onChanger = () => undefined;
    };
  }, [live, known, onTrainChanged]);
}

function useSummaryFeed(live: LiveSheet, sheetId: string): SummaryFeed {
  const client = useClient();
  const feed = useMemo(() => new SummaryFeed(client, sheetId), [client, sheetId]);
  useEffect(() => feed.follow(live.store), [feed, live]);
  return feed;
}

/** The columns as they were chosen last for this method; a choice holds at once. */
function useSheetLayout(live: LiveSheet, method: Method) {
  const { layout, ...ways } = useWindowLayout(method.familyId);
  const { store } = live;
  useEffect(() => {
    const columns = columnsFor({ ...method.definition, ...layout });
    if (columns.length !== store.state().columns.length) store.dispatch({ type: "columns", columns });
  }, [store, method, layout]);
  return { layout, ...ways };
}

function useLiveSheet(live: LiveSheet, ask: (rows: RowsToStrike) => void): void {
  useEffect(() => {
    live.onAskStrike = ask;
  }, [live, ask]);
  useFlushOnLeaving(
    live.store,
    useCallback(() => live.link.flush(), [live]),
  );
}
