import dejavuLicence from "@fontsource/dejavu-sans/LICENSE?raw";
import monoLicence from "@fontsource-variable/atkinson-hyperlegible-mono/LICENSE?raw";
import nextLicence from "@fontsource-variable/atkinson-hyperlegible-next/LICENSE?raw";
import notoLicence from "@fontsource-variable/noto-sans/LICENSE?raw";
import notoMonoLicence from "@fontsource-variable/noto-sans-mono/LICENSE?raw";
import thirdPartyNotices from "../../../resources/THIRD-PARTY-NOTICES.txt?raw";
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

/** The program's own standing, and the licences of everything that is part of it. */
export function LicencesPart() {
  return (
    <>
      <Panel title="Linefall">
        <p>No licence chosen yet: all rights reserved.</p>
      </Panel>
      {FONTS.map((font) => (
        <Licence key={font.name} {...font} />
      ))}
      <Licence
        name="Other software"
        lead="Everything else that Linefall carries, each part with its version and its licence."
        licence={thirdPartyNotices}
      />
    </>
  );
}

interface LicenceProps {
  readonly name: string;
  readonly lead: string;
  readonly licence: string;
}

function Licence({ name, lead, licence }: LicenceProps) {
  return (
    <Panel title={name} lead={lead}>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a long text must scroll by keyboard */}
      <section data-as-written className={styles.licence} aria-label={`Licence of ${name}`} tabIndex={0}>
        {licence}
      </section>
    </Panel>
  );
}
