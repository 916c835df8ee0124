import type { TraceElsewhere } from "#core/contract/records/trace.ts";
import { NO_CHAIN } from "#core/measurement/elsewhere-words.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { TrailOfRow } from "./ChainHistory.tsx";
import { namesOf } from "./chain-names.ts";
import styles from "./Trace.module.css";

/** A size that came in micrometres: that no chain leads from it to the SI, and what is known of its coming in. */
export function ElsewhereChain({
  result: { rowId, dimension },
}: {
  result: { readonly rowId: string; readonly dimension: string };
}) {
  const navigation = useNavigation();
  const found = useCall("trace.elsewhere", { rowId, dimension });
  return (
    <ScreenFrame
      title="No traceability of this size"
      actions={
        <span className={styles.acts}>
          {found.data ? (
            <Button
              onClick={() => navigation.go({ screen: "measure", sheetId: found.data?.sheet.id ?? null })}
            >
              Open sheet {found.data.sheet.number}
            </Button>
          ) : null}
          <PrintButton />
        </span>
      }
    >
      <CallNotice calls={[found]} waiting="Looking where it came from …" />
      {found.data ? <WhatIsKnown found={found.data} /> : null}
    </ScreenFrame>
  );
}

function WhatIsKnown({ found }: { found: TraceElsewhere }) {
  const { sheet, row, dimensionName, typed, convertedBy } = found;
  return (
    <Panel title={`${dimensionName}, row ${row.ordinal} of sheet ${sheet.number}`} lead={sheet.sample}>
      <div className={styles.stack}>
        <ResultFigure
          label={dimensionName}
          value={typed}
          unit="µm"
          coverage="converted elsewhere"
          missing=""
        />
        <Notice kind="care" title="Converted elsewhere: not traceable">
          <p>{NO_CHAIN}</p>
        </Notice>
        <Facts
          facts={[
            ["Converted by", convertedBy],
            ["Label", row.label],
            ["Note", row.note],
          ]}
        />
        <TrailOfRow trail={found.trail} nameOf={namesOf(found)} />
      </div>
    </Panel>
  );
}
