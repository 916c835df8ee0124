import { ResidualPlot } from "../../charts/ResidualPlot.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationContext, CalibrationPreview } from "./calibration-preview.ts";

export interface LinearityPanelProps {
  readonly context: CalibrationContext;
  readonly preview: CalibrationPreview;
  /** Smallest fraction read, div. */
  readonly band: number;
}

/** What the settings leave over when the factor is taken out. */
export function LinearityPanel({ context, preview, band }: LinearityPanelProps) {
  const { train, microscope } = context;
  const eyepiece = microscope.eyepieces.find((one) => one.id === train.eyepieceId);
  const residuals = preview.rows.flatMap((row, at) =>
    row ? [{ setting: at + 1, span: row.divisions.toNumber(), residual: row.residual.toNumber() }] : [],
  );
  return (
    <Panel title="Residuals" lead="By the span read; the band is the smallest fraction read.">
      {residuals.length > 0 ? (
        <ResidualPlot
          residuals={residuals}
          reticleDivisions={eyepiece?.reticle.divisions ?? 100}
          band={band}
        />
      ) : (
        <p className={styles.soft}>Nothing to plot yet.</p>
      )}
    </Panel>
  );
}
