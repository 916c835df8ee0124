import type { BenchStatus } from "#core/contract/records/bench.ts";
import { useCall } from "../bridge/use-call.ts";
import { Button } from "../parts/Button.tsx";
import { Ruler } from "../parts/layout/Ruler.tsx";
import { keysOf } from "../window/keymap.ts";
import { useNavigation, useNavigationState } from "../window/navigation-context.tsx";
import { changeOwnSettings, useOwnSettings } from "../window/own-settings.ts";
import { useCommand } from "../window/use-command.tsx";
import { FinishedExports } from "./FinishedExports.tsx";
import { NextStep } from "./NextStep.tsx";
import styles from "./TopStrip.module.css";

export interface TopStripProps {
  readonly status: BenchStatus | undefined;
  readonly onPerson: () => void;
  readonly onHelp: () => void;
}

/** Which bench, who is at it, and the three switches that every screen has. */
export function TopStrip({ status, onPerson, onHelp }: TopStripProps) {
  const navigation = useNavigation();
  const { canGoBack } = useNavigationState();
  const other = useOwnSettings().theme === "dim" ? "light" : "dim";
  const change = () => changeOwnSettings({ theme: other });
  useCommand("app.theme", change);
  const laboratory = useCall("laboratory.settings", {}).data;
  const person = status?.personInUse;
  return (
    <header className={styles.strip}>
      <div className={styles.line}>
        <Button look="quiet" disabled={!canGoBack} onClick={() => navigation.back()} keyHint="Alt+←">
          Back
        </Button>
        <p className={styles.bench} title={status?.databasePath}>
          {laboratory?.name || (status ? folderOf(status.databasePath) : "…")}
        </p>
        {status?.demo ? <p className={styles.demo}>invented demo data</p> : null}
        <span className={styles.space} />
        {person ? (
          <Button look="quiet" onClick={onPerson} keyHint={keysOf("app.person")[0]}>
            <span className={styles.person}>
              <span className={styles.soft}>At the bench: </span>
              {person.name}
            </span>
          </Button>
        ) : null}
        <Button look="quiet" onClick={change} keyHint={keysOf("app.theme")[0]}>
          {other === "light" ? "Light" : "Dim"}
        </Button>
        <Button look="quiet" onClick={onHelp} keyHint={keysOf("app.help")[0]}>
          Help
        </Button>
      </div>
      {person ? <NextStep /> : null}
      <FinishedExports />
      <Ruler />
    </header>
  );
}

/** The folder a bench lies in tells it apart from others where the laboratory has no name; the file's own is always the same. */
function folderOf(path: string): string {
  return path.split(/[\\/]/).at(-2) || path;
}
