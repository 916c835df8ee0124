import { useState } from "react";
import type { TraceChain } from "#core/contract/records/trace.ts";
import { FLAG_WORDS } from "#core/measurement/flags.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { chainCautions, conversionWords, readingsWords } from "../../parts/bench-words/chain-words.ts";
import { toFour } from "../../parts/bench-words/figures.ts";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { ResultFigure } from "../../parts/bench-words/ResultFigure.tsx";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { ConvertRowsDialog } from "../../parts/form/ConvertRowsDialog.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { ChainCalibration } from "./ChainCalibration.tsx";
import { ChainCertificate } from "./ChainCertificate.tsx";
import { ChainHistory } from "./ChainHistory.tsx";
import { namesOf } from "./chain-names.ts";
import { ElsewhereChain } from "./ElsewhereChain.tsx";
import styles from "./Trace.module.css";

/** From one result back to the laboratory: reading, conversion, calibration, micrometer, certificate. */
export function ChainPage({ result }: { result: { readonly rowId: string; readonly dimension: string } }) {
  const navigation = useNavigation();
  const chain = useCall("trace.backward", { rowId: result.rowId, dimension: result.dimension });
  if (chain.error?.code === "dimension.elsewhere") return <ElsewhereChain result={result} />;
  return (
    <ScreenFrame
      title="Traceability of this result"
      actions={
        <span className={styles.acts}>
          {chain.data ? (
            <Button
              onClick={() => navigation.go({ screen: "measure", sheetId: chain.data?.sheet.id ?? null })}
            >
              Open sheet {chain.data.sheet.number}
            </Button>
          ) : null}
          {chain.data?.measurement.size ? (
            <Button
              onClick={() =>
                navigation.go({ screen: "trace", result: { ...result, byHand: true }, subject: null })
              }
            >
              Recompute by hand
            </Button>
          ) : null}
          <PrintButton />
        </span>
      }
    >
      <CallNotice calls={[chain]} waiting="Following the chain …" />
      {chain.data ? <Chain chain={chain.data} /> : null}
    </ScreenFrame>
  );
}

/** A result read without a factor gets its size as soon as its train has one. */
function ConvertHere({ chain: { measurement, row, sheet } }: { chain: TraceChain }) {
  const [asking, setAsking] = useState(false);
  const { data } = useCall("bench.overview", {});
  const train = data?.microscopes
    .flatMap(({ trains }) => trains)
    .find((one) => one.train.id === measurement.trainId);
  const factor = train?.inForce?.result;
  if (!factor) return null;
  return (
    <>
      <p>
        <Button onClick={() => setAsking(true)}>
          Convert with the factor in force, {factor.shownFactor} ± {factor.shownUncertainty} µm/div …
        </Button>
      </p>
      {asking ? (
        <ConvertRowsDialog
          sheetId={sheet.id}
          rows={{ ids: [row.id] }}
          what={`row ${row.ordinal}`}
          onConverted={() => setAsking(false)}
          onClose={() => setAsking(false)}
        />
      ) : null}
    </>
  );
}

function Chain({ chain }: { chain: TraceChain }) {
  const nameOf = namesOf(chain);
  const { sheet, row, measurement, dimensionName, method, microscope, signOffs } = chain;
  const { size } = measurement;
  const cautions = chainCautions(chain, nameOf);
  return (
    <div className={styles.chain}>
      <Panel
        title={`1 · Result: ${dimensionName}, row ${row.ordinal} of sheet ${sheet.number}`}
        lead={sheet.sample}
      >
        <div className={styles.stack}>
          <ResultFigure
            label={dimensionName}
            value={size?.shownValue ?? null}
            uncertainty={size?.shownUncertainty}
            unit="µm"
            coverage={size ? `U, k = ${toFour(size.coverageFactor)}` : undefined}
            missing={measurement.missing ?? "no size"}
          />
          {size === null ? <ConvertHere chain={chain} /> : null}
          {cautions.length > 0 ? (
            <Notice kind="care" title="To be known with this result">
              <ul>
                {cautions.map((one) => (
                  <li key={one}>{one}</li>
                ))}
              </ul>
            </Notice>
          ) : null}
          <Facts
            facts={[
              ["Label", row.label],
              ["Note", row.note],
              ["Sheet", `${sheet.number}, opened ${shownInstant(sheet.openedAt)}, ${nameOf(sheet.openedBy)}`],
              ["State of the sheet", signOffs.state],
              ...signOffs.signOffs
                .filter((one) => one.ended === null)
                .map((one) => [capital(one.kind), `${shownInstant(one.at)}, ${nameOf(one.by)}`] as const),
              [
                "Flags",
                measurement.flags.length === 0
                  ? "none"
                  : measurement.flags.map((flag) => FLAG_WORDS[flag].meaning).join("; "),
              ],
            ]}
          />
        </div>
      </Panel>
      <Panel title="2 · Reading and conversion">
        <Facts
          facts={[
            ["As typed", readingsWords(measurement)],
            ["Read by", `${nameOf(measurement.enteredBy)}, ${shownInstant(measurement.enteredAt)}`],
            ["With", chain.trainName],
            [
              "Microscope",
              [microscope.name, microscope.serial && `serial ${microscope.serial}`]
                .filter(Boolean)
                .join(", "),
            ],
            ["Conversion, all digits", conversionWords(chain), "whole line"],
            ["Standard uncertainty", size ? `${toFour(size.standardUncertainty)} µm` : ""],
            ["Method", `${method.definition.name}, version ${method.version}`],
            ["Edge convention", method.definition.edgeConvention],
          ]}
        />
      </Panel>
      <ChainCalibration chain={chain} nameOf={nameOf} />
      {chain.micrometer && chain.certificate ? (
        <ChainCertificate
          micrometer={chain.micrometer}
          certificate={chain.certificate}
          micrometerAttachments={chain.micrometerAttachments}
          certificateAttachments={chain.certificateAttachments}
          steps={["4 · ", "5 · ", "6 · "]}
        />
      ) : null}
      <ChainHistory chain={chain} nameOf={nameOf} />
      <PaperFoot asOf={chain.asOf} />
    </div>
  );
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
