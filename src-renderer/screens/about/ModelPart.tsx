import { DEFAULT_CONDITIONS } from "#core/calibration/default-conditions.ts";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./About.module.css";

type ConditionKey = keyof typeof DEFAULT_CONDITIONS;

const NAMES: Readonly<Record<ConditionKey, string>> = {
  temperature: "Temperature, °C",
  temperatureHalfWidth: "Uncertainty of the temperature, ± °C",
  expansion: "Linear expansion, per kelvin",
  expansionHalfWidth: "Uncertainty of the expansion, ± per kelvin",
  micrometerDriftHalfWidth: "Change of the micrometer since its certificate, ± µm",
  alignmentHalfAngle: "Largest angle between the scales, °",
  fieldDistortionHalfWidth: "Distortion over the field, ± relative",
  trainHalfWidth: "Seating and person's settings, ± relative",
  trainDoubt: "How good that figure is, relative",
  smallestFraction: "Smallest fraction read, div",
};

const DEFAULTS = (Object.keys(DEFAULT_CONDITIONS) as ConditionKey[]).map((key) => ({
  key,
  name: NAMES[key],
  ...DEFAULT_CONDITIONS[key],
}));

/** The uncertainty model in words, with every assumption of a new calibration. */
export function ModelPart() {
  return (
    <>
      <Panel title="The factor">
        <div className={styles.prose}>
          <p className={styles.formula}>factor = certified length ÷ reticle divisions, in µm/div</p>
          <p>
            Each setting lays the reticle over the stage micrometer anew. Its certified length is the marked
            length plus the certificate's errors at both lines, brought to the working temperature. Over
            several settings a line through the origin is fitted, divisions against length, because the doubt
            sits in the reading and not in the certificate.
          </p>
          <p>
            The standard uncertainty follows the Guide to the expression of uncertainty in measurement (JCGM
            100:2008): the parts below are added as squares, each weighted by how strongly it moves the
            factor.
          </p>
          <ol>
            <li>The certificate: U divided by its own k. More settings never make it smaller.</li>
            <li>The change of the micrometer since its certificate.</li>
            <li>Temperature and expansion of the glass.</li>
            <li>
              The angle between the scales: it lengthens the reading, so it is corrected as well as doubted.
            </li>
            <li>Distortion between the span calibrated and the place where objects are read.</li>
            <li>Seating of eyepiece, head and turret, tube length, and the person's settings.</li>
            <li>Repeatability: the scatter of the settings, with its degrees of freedom.</li>
            <li>Reading at either end: the smallest fraction read, once per end, not averaged down.</li>
          </ol>
          <p>
            Parts that two calibrations from the same micrometer share are kept apart from those that are
            fresh each time. A comparison of two factors therefore does not count the certificate twice.
          </p>
        </div>
      </Panel>
      <Panel title="A size">
        <div className={styles.prose}>
          <p className={styles.formula}>size = factor × (right reading − left reading), in µm</p>
          <p>
            Its uncertainty is that of the factor, of the reading at both edges, of the person's
            repeatability, of the angle between object and scale, and of where an edge lies. The method says
            how large each is; setting one to 0 leaves it out.
          </p>
          <p>
            U is the standard uncertainty times k: from Student's t for 95 % at the effective degrees of
            freedom (Welch and Satterthwaite, rounded down), or k = 2, as the method says. U is given to two
            significant digits and the value to the same place. Only what is shown is rounded; what is stored
            and computed with keeps its digits.
          </p>
        </div>
      </Panel>
      <Panel
        title="What a new calibration assumes"
        lead="Each may be changed, or set to 0, in the calibration itself."
      >
        <DataTable
          caption="Default conditions of a calibration and where they come from"
          captionHidden
          columns={[
            { key: "name", title: "Condition", names: true, cell: (one) => one.name },
            { key: "value", title: "Default", number: true, cell: (one) => one.value },
            { key: "why", title: "Why", cell: (one) => one.why },
          ]}
          rows={DEFAULTS}
          rowKey={(one) => one.key}
          empty="None."
        />
      </Panel>
    </>
  );
}
