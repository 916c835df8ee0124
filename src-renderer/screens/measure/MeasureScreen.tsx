import { useCallback, useEffect, useMemo, useState } from "react";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useOpened } from "../../live/use-opened.ts";
import { NotOpened } from "../../parts/NotOpened.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { liveSheet } from "./live-sheets.ts";
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

function OpenSheet({ sheetId, row }: { sheetId: string; row: number | undefined }) {
  const client = useClient();
  const navigation = useNavigation();
  const opening = useMemo(
    () => ({
      load: () => loadSheetContext(client, sheetId),
      open: (context: SheetContext) => ({ context, live: liveSheet(client, context) }),
    }),
    [client, sheetId],
  );
  const { opened, again } = useOpened(opening);
  const [followed, setFollowed] = useState<SheetContext | null>(null);

  /** Another setting of the changer: other factors around the same rows, which stay as they are. */
  const followTrain = useCallback(async (): Promise<void> => {
    const loaded = await loadSheetContext(client, sheetId);
    if (loaded.ok) setFollowed(loaded.value);
  }, [client, sheetId]);

  // Gone to once: a reload, or Back, begins where the sheet was left.
  useEffect(() => {
    if (opened.state !== "open" || row === undefined) return;
    const { store } = opened.value.live;
    if (row <= store.state().total) store.dispatch({ type: "focusCell", row: row - 1, column: 0 });
    navigation.replace({ screen: "measure", sheetId });
  }, [opened, row, sheetId, navigation]);

  if (opened.state === "open") {
    const { context, live } = opened.value;
    const now = followed?.sheet.id === sheetId ? followed : context;
    return <SheetAtWork context={now} live={live} onTrainChanged={followTrain} />;
  }
  return (
    <NotOpened
      title="Measure"
      what="sheet"
      opened={opened}
      onAgain={again}
      onOther={() => navigation.replace({ screen: "measure", sheetId: null })}
    />
  );
}
