import { useState } from "react";
import type { SheetSignOffs, SheetState, SignOff } from "#core/contract/records/sign-off.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { pinResetWords } from "../../parts/bench-words/pin-reset-words.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { ReasonForm } from "../../parts/form/ReasonForm.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./RecordsTab.module.css";
import { SignForm, WordsForm } from "./SignOffForms.tsx";

type Act = "close" | "review" | "sign" | "reopen";

const OFFERED: Readonly<Record<SheetState, readonly Act[]>> = {
  open: ["close"],
  closed: ["review", "sign", "reopen"],
  reviewed: ["sign", "reopen"],
  signed: ["reopen"],
};

const ACT_WORDS: Readonly<Record<Act, string>> = {
  close: "Close the sheet",
  review: "Review it",
  sign: "Sign with PIN",
  reopen: "Open it again",
};

const STATE_WORDS: Readonly<Record<SheetState, string>> = {
  open: "Open: being measured.",
  closed: "Closed: every change asks for its reason.",
  reviewed: "Closed and reviewed by a second person.",
  signed: "Signed. A change takes review and signature away, and they have to be given again.",
};

/** State and signatures of a sheet, those that fell included, and the next act. */
export function SignOffPanel({ sheetId, number }: { sheetId: string; number: string }) {
  const client = useClient();
  const sheetSignOffs = useCall("sheets.signOffs", { sheetId });
  const laboratory = useCall("laboratory.settings", {});
  const [act, setAct] = useState<Act | null>(null);
  const done = () => setAct(null);
  const data = sheetSignOffs.data;
  const offered = (data ? OFFERED[data.state] : []).filter(
    (one) => one !== "sign" || data?.state === "reviewed" || laboratory.data?.reviewBeforeSigning === false,
  );
  const common = { sheetId, number, onSaved: done, onCancel: done };
  return (
    <Panel
      title="Closing, review, signature"
      actions={
        act === null
          ? offered.map((one) => (
              <Button key={one} onClick={() => setAct(one)}>
                {ACT_WORDS[one]}
              </Button>
            ))
          : null
      }
    >
      <div className={styles.stack}>
        <CallNotice calls={[sheetSignOffs, laboratory]} waiting="Reading the signatures …" />
        {data ? <SignOffSummary sheetSignOffs={data} /> : null}
        {act === "close" ? <WordsForm {...common} act="close" /> : null}
        {act === "review" ? <WordsForm {...common} act="review" /> : null}
        {act === "sign" ? <SignForm {...common} /> : null}
        {act === "reopen" ? (
          <ReasonForm
            id={`reopen-${sheetId}`}
            label={`Open sheet ${number} again`}
            what="the reopening of a sheet"
            submit="Open it again"
            send={(reason, requestId) => client("sheets.reopen", { requestId, sheetId, reason })}
            onSaved={done}
            onCancel={done}
          >
            <p>Review and signature fall; they are kept with the date and your reason.</p>
          </ReasonForm>
        ) : null}
      </div>
    </Panel>
  );
}

function SignOffSummary({ sheetSignOffs }: { sheetSignOffs: SheetSignOffs }) {
  const nameOf = usePersonName();
  const columns: readonly Column<SignOff>[] = [
    {
      key: "kind",
      title: "What",
      names: true,
      cell: (one) => (one.pinReset ? `${one.kind}, PIN reset` : one.kind),
    },
    { key: "at", title: "When", unbroken: true, cell: (one) => shownInstant(one.at) },
    { key: "by", title: "By", cell: (one) => nameOf(one.by) },
    { key: "words", title: "Words", cell: (one) => one.words || "–" },
    {
      key: "stands",
      title: "Stands",
      cell: ({ ended }) =>
        ended ? `no, since ${shownInstant(ended.at)}: ${ended.reason} (${nameOf(ended.by)})` : "yes",
    },
    {
      key: "data",
      title: "Rows and results, SHA-256",
      cell: (one) => <span className={styles.hash}>{one.dataSha256}</span>,
    },
  ];
  return (
    <>
      {sheetSignOffs.asksForSignature ? (
        <Notice kind="care" title="This sheet asks for signature again.">
          It had been signed, and something has been changed since.
        </Notice>
      ) : null}
      <p>{STATE_WORDS[sheetSignOffs.state]}</p>
      {sheetSignOffs.signOffs.map(({ id, kind, by, ended, pinReset }) =>
        pinReset && ended === null ? (
          <Notice
            key={id}
            kind="care"
            title={`${nameOf(by)} ${kind} ${pinResetWords(shownInstant(pinReset.at), nameOf(pinReset.voucher))}`}
          />
        ) : null,
      )}
      {sheetSignOffs.signOffs.length > 0 ? (
        <DataTable
          caption="Closings, reviews and signatures, newest first"
          columns={columns}
          rows={sheetSignOffs.signOffs}
          rowKey={(one) => one.id}
          empty="None."
        />
      ) : null}
    </>
  );
}
