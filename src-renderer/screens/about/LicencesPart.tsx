import dejavuLicence from "@fontsource/dejavu-sans/LICENSE?raw";
import monoLicence from "@fontsource-variable/atkinson-hyperlegible-mono/LICENSE?raw";
import nextLicence from "@fontsource-variable/atkinson-hyperlegible-next/LICENSE?raw";
import notoLicence from "@fontsource-variable/noto-sans/LICENSE?raw";
import notoMonoLicence from "@fontsource-variable/noto-sans-mono/LICENSE?raw";
import { Panel } from "../../parts/layout/Panel.tsx";
import styles from "./About.module.css";

const TELLS_APART =
  "SIL Open Font License 1.1. Drawn to tell 0 from O and 1 from l; bundled, nothing is fetched.";
const MICRO_AND_GREEK =
  "SIL Open Font License 1.1. The micro sign and Greek letters; bundled, nothing is fetched.";

const FONTS = [
  { name: "Atkinson Hyperlegible Next", lead: TELLS_APART, licence: nextLicence },
  { name: "Atkinson Hyperlegible Mono", lead: TELLS_APART, licence: monoLicence },
  { name: "Noto Sans", lead: MICRO_AND_GREEK, licence: notoLicence },
  { name: "Noto Sans Mono", lead: MICRO_AND_GREEK, licence: notoMonoLicence },
  {
    name: "DejaVu Sans",
    lead: "The licence of Bitstream Vera. Arrows, roots and raised figures; bundled, nothing is fetched.",
    licence: dejavuLicence,
  },
] as const;

/** The licences of the typefaces that are part of the program. */
export function LicencesPart() {
  return FONTS.map((font) => (
    <Panel key={font.name} title={font.name} lead={font.lead}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long text must scroll by keyboard */}
      <section className={styles.licence} aria-label={`Licence of ${font.name}`} tabIndex={0}>
        {font.licence}
      </section>
    </Panel>
  ));
}
