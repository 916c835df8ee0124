import { useEffect, useState } from "react";
import type { CallOutput } from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../../bridge/bridge-context.tsx";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { usePersonName } from "../../../parts/bench-words/use-person-name.ts";
import { ScreenFrame } from "../../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../../parts/Notice.tsx";
import { RefusalNotice } from "../../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import { contextOfSheet, type SheetContext } from "../sheet-context.ts";
import { AgreementPage } from "./AgreementPage.tsx";
import { SecondReadingAtWork } from "./SecondReadingAtWork.tsx";
import { SecondReadings } from "./SecondReadings.tsx";

type Opened = CallOutput<"secondReadings.get">;

/**
 * Second readings of a sheet. The sheet is found in the list of sheets: its half-typed readings, which come with the
 * sheet itself, are the first reader's.
 */
export function SecondReadingScreen({ sheetId, second }: { sheetId: string; second: string }) {
  const client = useClient();
  const sheet = useCall("sheets.list", {}).data?.find((one) => one.id === sheetId);
  const [context, setContext] = useState<SheetContext | null>(null);
  const [error, setError] = useState<CallError | null>(null);
  useEffect(() => {
    if (!sheet || context) return;
    void contextOfSheet(client, sheet).then((loaded) =>
      loaded.ok ? setContext(loaded.value) : setError(loaded.error),
    );
  }, [client, sheet, context]);
  if (error) return <RefusalNotice error={error} />;
  if (!context) return <p role="status">Fetching the sheet …</p>;
  if (second === "list") return <SecondReadings context={context} />;
  return <OneSecondReading context={context} secondReadingId={second} />;
}

function OneSecondReading({ context, secondReadingId }: { context: SheetContext; secondReadingId: string }) {
  const client = useClient();
  const [opened, setOpened] = useState<Opened | null>(null);
  const [error, setError] = useState<CallError | null>(null);
  const [version, setVersion] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new version is fetched
  useEffect(() => {
    void client("secondReadings.get", { secondReadingId }).then((reply) =>
      reply.ok ? setOpened(reply.value) : setError(reply.error),
    );
  }, [client, secondReadingId, version]);
  const person = useCall("bench.status", {}).data?.personInUse ?? null;
  if (error) return <RefusalNotice error={error} />;
  if (!opened || !person) return <p role="status">Fetching the second reading …</p>;
  const { secondReading, rows, report, drafts } = opened;
  if (report) return <AgreementPage context={context} reading={secondReading} report={report} />;
  if (secondReading.reader !== person.id)
    return <OfAnother sheetId={context.sheet.id} reader={secondReading.reader} />;
  return (
    <SecondReadingAtWork
      context={context}
      reading={secondReading}
      rows={rows}
      drafts={drafts}
      onClosed={() => setVersion(version + 1)}
    />
  );
}

function OfAnother({ sheetId, reader }: { sheetId: string; reader: string }) {
  const navigation = useNavigation();
  const nameOf = usePersonName();
  return (
    <ScreenFrame title="Second reading">
      <Notice
        kind="care"
        title={`This second reading is ${nameOf(reader)}’s and not closed yet.`}
        hint="Change the person at the bench (F4) to go on with it."
      >
        <p>
          <Button onClick={() => navigation.go({ screen: "measure", sheetId })}>To the sheet</Button>
        </p>
      </Notice>
    </ScreenFrame>
  );
}
