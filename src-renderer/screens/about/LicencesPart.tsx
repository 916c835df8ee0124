import monoLicence from "@fontsource-variable/atkinson-hyperlegible-mono/LICENSE?raw";
import nextLicence from "@fontsource-variable/atkinson-hyperlegible-next/LICENSE?raw";
import { Panel } from "../../parts/Panel.tsx";
import styles from "./About.module.css";

const FONTS = [
  { name: "Atkinson Hyperlegible Next", licence: nextLicence },
  { name: "Atkinson Hyperlegible Mono", licence: monoLicence },
] as const;

/** The licences of the typefaces that are part of the program. */
export function LicencesPart() {
  return FONTS.map((font) => (
    <Panel
      key={font.name}
      title={font.name}
      lead="SIL Open Font License 1.1. Drawn to tell 0 from O and 1 from l; bundled, nothing is fetched."
    >
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long text must scroll by keyboard */}
      <section className={styles.licence} aria-label={`Licence of ${font.name}`} tabIndex={0}>
        {font.licence}
      </section>
    </Panel>
  ));
}
