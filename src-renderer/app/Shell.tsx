import { useState } from "react";
import { useCall } from "../bridge/use-call.ts";
import { Notice } from "../parts/Notice.tsx";
import { PersonDialog } from "../parts/people/PersonDialog.tsx";
import { WhoIsAtTheBench } from "../parts/people/WhoIsAtTheBench.tsx";
import { useFirstFocus } from "../window/first-focus.ts";
import { SCREEN_START, SCREEN_TITLES, type ScreenName } from "../window/location.ts";
import { useNavigation, useNavigationState } from "../window/navigation-context.tsx";
import { useCommand } from "../window/use-command.tsx";
import { useViewChoice } from "../window/view-choices.ts";
import { BenchOpening } from "./BenchOpening.tsx";
import { FaultBoundary } from "./FaultBoundary.tsx";
import { GoToDialog } from "./go-to/GoToDialog.tsx";
import { HelpDialog } from "./HelpDialog.tsx";
import { KeyMapDialog } from "./KeyMapDialog.tsx";
import { LeaveQuestion } from "./LeaveQuestion.tsx";
import { Rail } from "./Rail.tsx";
import styles from "./Shell.module.css";
import { drawScreen } from "./screens.tsx";
import { TopStrip } from "./TopStrip.tsx";
import { useBenchSettings } from "./use-bench-settings.ts";
import { useUnloadGuard } from "./use-unload-guard.ts";

type Open = "help" | "keys" | "person" | "go to" | null;

/** Everything around a screen: rail, top strip, questions, first run. */
export function Shell() {
  const [open, setOpen] = useState<Open>(null);
  const { data: status, error, reload } = useCall("bench.status", {});
  const navigation = useNavigation();
  const { location } = useNavigationState();
  const close = () => setOpen(null);

  const [isNarrow, turnRail] = useViewChoice("narrowRail");
  useCommand("app.rail", turnRail);
  useCommand("app.help", () => setOpen("help"));
  useCommand("app.keys", () => setOpen("keys"));
  useCommand("app.goTo", status?.personInUse ? () => setOpen("go to") : null);
  useCommand("app.person", status?.personInUse ? () => setOpen("person") : null);
  useScreenKeys(status?.personInUse != null);
  useUnloadGuard();
  const { decimalSign, dateForm } = useBenchSettings();
  useFirstFocus(`${status?.personInUse?.id} ${JSON.stringify(location)}`);

  return (
    <div className={styles.shell} data-rail={isNarrow ? "narrow" : undefined}>
      <a className={styles.skip} href="#main">
        To the screen
      </a>
      <Rail enabled={status?.personInUse != null} />
      <TopStrip status={status} onPerson={() => setOpen("person")} onHelp={() => setOpen("help")} />
      <main id="main" className={styles.main} tabIndex={-1}>
        {error ? (
          <Notice kind="fault" live title={error.message} hint={error.hint}>
            <p>
              <button type="button" onClick={reload}>
                Ask again
              </button>
            </p>
          </Notice>
        ) : null}
        {status || error ? null : <BenchOpening />}
        {status && !status.personInUse ? <WhoIsAtTheBench first onChosen={() => undefined} /> : null}
        {status?.personInUse ? (
          <FaultBoundary
            key={`${location.screen} ${decimalSign} ${dateForm}`}
            where={`the screen ${SCREEN_TITLES[location.screen]}`}
          >
            {drawScreen(location)}
          </FaultBoundary>
        ) : null}
      </main>
      {open === "help" ? (
        <HelpDialog
          location={location}
          onClose={close}
          onKeys={() => setOpen("keys")}
          onHandbook={
            status?.personInUse
              ? (page) => {
                  close();
                  navigation.go({ screen: "about", part: "handbook", page });
                }
              : null
          }
        />
      ) : null}
      {open === "keys" ? <KeyMapDialog onClose={close} /> : null}
      {open === "go to" ? <GoToDialog onClose={close} /> : null}
      {open === "person" ? <PersonDialog onClose={close} /> : null}
      <LeaveQuestion />
    </div>
  );
}

function useScreenKeys(enabled: boolean): void {
  const navigation = useNavigation();
  const go = (screen: ScreenName) => (enabled ? () => navigation.go(SCREEN_START[screen]) : null);
  useCommand("go.bench", go("bench"));
  useCommand("go.calibrate", go("calibrate"));
  useCommand("go.measure", go("measure"));
  useCommand("go.count", go("count"));
  useCommand("go.trends", go("trends"));
  useCommand("go.registers", go("registers"));
  useCommand("go.records", go("records"));
  useCommand("go.trace", go("trace"));
  useCommand("go.practice", go("practice"));
  useCommand("go.settings", go("settings"));
  useCommand("go.about", go("about"));
  useCommand("go.back", enabled ? () => navigation.back() : null);
}
