import { useEffect, useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { type LiveSheet, liveSheet } from "./live-sheets.ts";
import { SheetAtWork } from "./SheetAtWork.tsx";
import { SheetChooser } from "./SheetChooser.tsx";
import { BlindGuard } from "./second-reader/BlindGuard.tsx";
import { SecondReadingScreen } from "./second-reader/SecondReadingScreen.tsx";
import { loadSheetContext, type SheetContext } from "./sheet-context.ts";

/** Measure: the sheet at work, or the choice of one. */
export function MeasureScreen({
  sheetId,
  second,
  row,
}: {
  sheetId: string | null;
  /** Its second readings instead: the list, or one of them. */
  second?: string | undefined;
  /** The row to begin at, from 1. */
  row?: number | undefined;
}) {
  if (sheetId === null) return <SheetChooser />;
  if (second !== undefined) {
    return <SecondReadingScreen key={`${sheetId} ${second}`} sheetId={sheetId} second={second} />;
  }
  return (
    <BlindGuard key={sheetId} sheetId={sheetId}>
      <OpenSheet sheetId={sheetId} row={row} />
    </BlindGuard>
  );
}

type Opened =
  | { readonly state: "fetching" }
  | { readonly state: "refused"; readonly error: CallError }
  | { readonly state: "open"; readonly context: SheetContext; readonly live: LiveSheet };

function OpenSheet({ sheetId, row }: { sheetId: string; row: number | undefined }) {
  const client = useClient();
  const navigation = useNavigation();
  const [opened, setOpened] = useState<Opened>({ state: "fetching" });
  const [attempt, setAttempt] = useState(0);

  // biome-ignore lint/correctness/useExhaustiveDependencies: `attempt` asks again
  useEffect(() => {
    let isWanted = true;
    void loadSheetContext(client, sheetId).then((loaded) => {
      if (!isWanted) return;
      if (loaded.ok) {
        const live = liveSheet(client, loaded.value);
        setOpened({ state: "open", context: loaded.value, live });
      } else setOpened({ state: "refused", error: loaded.error });
    });
    return () => {
      isWanted = false;
    };
  }, [client, sheetId, attempt]);

  // Gone to once: a reload, or Back, begins where the sheet was left.
  useEffect(() => {
    if (opened.state !== "open" || row === undefined) return;
    const { store } = opened.live;
    if (row <= store.state().total) store.dispatch({ type: "focusCell", row: row - 1, column: 0 });
    navigation.replace({ screen: "measure", sheetId });
  }, [opened, row, sheetId, navigation]);

  if (opened.state === "open") return <SheetAtWork context={opened.context} live={opened.live} />;
  return (
    <ScreenFrame title="Measure">
      {opened.state === "fetching" ? (
        <p role="status">Fetching the sheet …</p>
      ) : (
        <Notice kind="fault" live title={opened.error.message} hint={opened.error.hint}>
          <p>
            <Button onClick={() => setAttempt(attempt + 1)}>Try again</Button>{" "}
            <Button onClick={() => navigation.replace({ screen: "measure", sheetId: null })}>
              Choose another sheet
            </Button>
          </p>
        </Notice>
      )}
    </ScreenFrame>
  );
}
