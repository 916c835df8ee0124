import type { TraceChain } from "#core/contract/records/trace.ts";
import {
  type FactorByHand,
  factorByHand,
  type HandContribution,
  type HandSetting,
  type SizeByHand,
  sizeByHand,
} from "#core/measurement/by-hand.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { Notice } from "../../parts/Notice.tsx";
import styles from "./Trace.module.css";

/** One page by which a reviewer recomputes one result with a pocket calculator, and the factor behind it. */
export function ByHandPage({ result }: { result: { readonly rowId: string; readonly dimension: string } }) {
  const chain = useCall("trace.backward", { rowId: result.rowId, dimension: result.dimension });
  return (
    <ScreenFrame
      title="This result by hand"
      lead="For a reviewer with a pocket calculator: every number that the result needs, to eight digits. What you get may differ in the last of them."
      actions={<PrintButton />}
    >
      <CallNotice calls={[chain]} waiting="Following the chain …" />
      {chain.data ? <Steps chain={chain.data} /> : null}
    </ScreenFrame>
  );
}

function Steps({ chain }: { chain: TraceChain }) {
  const { sheet, row, measurement, dimensionName, method, calibration, micrometer, certificate } = chain;
  const factor = calibration?.record.result;
  const size = factor ? sizeByHand(measurement, factor, method.definition) : null;
  if (!calibration || !size) {
    return (
      <Notice kind="care" title="There is nothing to recompute.">
        {measurement.missing ?? "The reading has no size yet: it was never converted."}
      </Notice>
    );
  }
  return (
    <div className={styles.chain}>
      <Panel
        title={`1 · Size: ${dimensionName}, row ${row.ordinal} of sheet ${sheet.number}`}
        lead={sheet.sample}
      >
        <Facts facts={sizeSteps(size)} />
      </Panel>
      <Panel title="2 · Its uncertainty" lead="JCGM 100:2008, 5.1.2 and 6.2.1">
        <div className={styles.stack}>
          <DataTable
            caption="Contributions: u times its sensitivity, and the square"
            columns={CONTRIBUTION_COLUMNS}
            rows={size.contributions}
            rowKey={(one) => one.key}
            empty="No contribution."
          />
          <Facts facts={uncertaintySteps(size)} />
        </div>
      </Panel>
      <Panel title="3 · As recorded">
        <div className={styles.stack}>
          <Facts facts={[[dimensionName, `${size.shownValue} ± ${size.shownUncertainty} µm`]]} />
          {size.agrees ? null : (
            <Notice kind="fault" title="The record does not agree with its readings.">
              The steps above give {size.size} ± {size.expandedUncertainty} µm. Run Records → Verify: it names
              what was changed.
            </Notice>
          )}
        </div>
      </Panel>
      {micrometer && certificate ? (
        <FactorSteps
          factor={factorByHand(calibration.record, micrometer, certificate)}
          lead={`${chain.trainName}; ${micrometer.name}, certificate ${certificate.number}`}
        />
      ) : null}
      <p data-paper-only>Recomputed by: ______________________ on: ______________ agrees: yes / no</p>
      <PaperFoot asOf={chain.asOf} />
    </div>
  );
}

type Fact = readonly [label: string, words: string, room?: "whole line"];

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function sizeSteps(size: SizeByHand): readonly Fact[] {
  const angle = size.alignment === null ? "" : ` × ${size.alignment}`;
  return [
    ...size.readings.map(({ working, divisions }, index): Fact => {
      const words = working === null ? `${divisions} div, read directly` : `${working} = ${divisions} div`;
      return [size.readings.length === 1 ? "Reading" : `Reading ${index + 1}`, words];
    }),
    ...(size.together === null ? [] : [[capital(size.together), `${size.divisions} div`] as const]),
    ["Factor", `${size.factor} µm/div`],
    ...(size.alignment === null
      ? []
      : [["Angle between object and scale", `× ${size.alignment}, as the method sets it`] as const]),
    ["Size", `${size.divisions} × ${size.factor}${angle} = ${size.size} µm`, "whole line"],
  ];
}

function uncertaintySteps(size: SizeByHand): readonly Fact[] {
  return [
    ["Sum of the squares", `${size.sumOfSquares} µm²`],
    ["u, its root", `${size.standardUncertainty} µm`],
    [
      "k",
      `${size.coverageFactor}${size.degreesOfFreedom === null ? "" : `, for ${size.degreesOfFreedom} effective degrees of freedom`}`,
    ],
    [
      "U = k × u",
      `${size.coverageFactor} × ${size.standardUncertainty} = ${size.expandedUncertainty} µm; rounded to two digits, and the size to the same place`,
      "whole line",
    ],
  ];
}

function FactorSteps({ factor, lead }: { factor: FactorByHand; lead: string }) {
  const regression = factor.estimator === "origin-regression";
  const { sums } = factor;
  const n = factor.settings.length;
  return (
    <Panel title="4 · The factor, from its settings" lead={lead}>
      <div className={styles.stack}>
        <DataTable
          caption="Certified length L = marked + correction; reticle interval D"
          columns={[...SETTING_COLUMNS, ...(regression ? REGRESSION_COLUMNS : RATIO_COLUMNS)]}
          rows={factor.settings}
          rowKey={(one) => String(one.number)}
          empty="No setting."
        />
        <Facts
          facts={[
            ...(regression
              ? [
                  ["Sums", `L²: ${sums.square} µm²; L × D: ${sums.product} µm·div`] as const,
                  ["L² over L × D", `${factor.plain} µm/div`] as const,
                ]
              : [
                  ["Sum of L/D, over their number", `${sums.ratio} / ${n} = ${factor.plain} µm/div`] as const,
                ]),
            ...(factor.conditions === null
              ? []
              : [["Temperature and angle of the scales", `× ${factor.conditions}`] as const]),
            ["Factor", `${factor.exact} µm/div`],
            ...(factor.working === null
              ? []
              : [["Rounded working factor, put in force", `${factor.working} µm/div`] as const]),
          ]}
        />
      </div>
    </Panel>
  );
}

const CONTRIBUTION_COLUMNS: readonly Column<HandContribution>[] = [
  { key: "name", title: "From", names: true, words: true, cell: (one) => one.name },
  {
    key: "u",
    title: "u",
    number: true,
    cell: (one) => (one.unit === "1" ? one.u : `${one.u} ${one.unit}`),
  },
  { key: "c", title: "Sensitivity", number: true, cell: (one) => one.sensitivity },
  { key: "part", title: "Product / µm", number: true, cell: (one) => one.contribution },
  { key: "square", title: "Its square / µm²", number: true, cell: (one) => one.square },
];

const SETTING_COLUMNS: readonly Column<HandSetting>[] = [
  { key: "number", title: "Setting", names: true, number: true, cell: (one) => one.number },
  { key: "nominal", title: "Marked / µm", number: true, cell: (one) => one.nominal },
  { key: "correction", title: "Correction / µm", number: true, cell: (one) => one.correction },
  { key: "length", title: "L / µm", number: true, cell: (one) => one.length },
  { key: "divisions", title: "D / div", number: true, cell: (one) => one.divisions },
];
const REGRESSION_COLUMNS: readonly Column<HandSetting>[] = [
  { key: "square", title: "L² / µm²", number: true, cell: (one) => one.square },
  { key: "product", title: "L × D / µm·div", number: true, cell: (one) => one.product },
];
const RATIO_COLUMNS: readonly Column<HandSetting>[] = [
  { key: "ratio", title: "L/D / µm per div", number: true, cell: (one) => one.ratio },
];
