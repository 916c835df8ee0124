import { useState } from "react";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { shownDay } from "../../../parts/bench-words/instant.ts";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { type NumberedChoice, NumberedChoices } from "../../../parts/layout/NumberedChoices.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../../parts/layout/ScreenFrame.tsx";
import { useDigitsAhead } from "../../../parts/layout/use-digits-ahead.ts";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import type { SheetContext } from "../sheet-context.ts";
import { StartSecondReading } from "./StartSecondReading.tsx";

const NEW = "new";

/** The second readings of a sheet, and the way to begin one; nothing of its rows is on this page. */
export function SecondReadings({ context }: { context: SheetContext }) {
  const { sheet } = context;
  const navigation = useNavigation();
  const nameOf = usePersonName();
  const readings = useCall("secondReadings.list", { sheetId: sheet.id });
  useDigitsAhead(readings.data === undefined && readings.error === undefined);
  const [isStarting, setStarting] = useState(false);
  const isOpen = readings.data?.some((one) => one.state === "open") ?? true;
  const toSheet = (): void => navigation.go({ screen: "measure", sheetId: sheet.id });
  const go = (key: string): void => {
    if (key === NEW) setStarting(true);
    else navigation.go({ screen: "measure", sheetId: sheet.id, second: key });
  };
  const choices: readonly NumberedChoice[] = [
    ...(isOpen ? [] : [{ key: NEW, words: "Begin a second reading" }]),
    ...(readings.data ?? []).slice(0, 8).map((one) => ({
      key: one.id,
      words: `Second reading ${one.number} · ${nameOf(one.reader)} · ${shownDay(one.startedAt)}`,
      more:
        one.state === "open"
          ? `open, ${one.readCount} of ${one.rowCount} read`
          : `${one.rowCount} rows, closed`,
    })),
  ];
  return (
    <ScreenFrame
      title={`Second readings of ${sheet.number} · ${sheet.sample}`}
      lead="Somebody reads rows again without seeing what was read before; then both are compared."
      actions={
        <Button onClick={toSheet} keyHint="-">
          To the sheet
        </Button>
      }
    >
      {readings.error ? <RefusalNotice error={readings.error} /> : null}
      {isStarting ? (
        <StartSecondReading sheetId={sheet.id} onLeave={() => setStarting(false)} onStarted={go} />
      ) : readings.data ? (
        <Panel title="Which one?">
          <NumberedChoices choices={choices} onChoose={go} onLeave={toSheet} autoFocus />
        </Panel>
      ) : null}
    </ScreenFrame>
  );
}
