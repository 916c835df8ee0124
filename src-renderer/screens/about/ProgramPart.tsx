import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";

const HOSTS = {
  electron: "its own desktop window",
  loopback: "a browser window of this machine, reached at 127.0.0.1 only",
} as const;

/** Version, host, and where the records lie. */
export function ProgramPart() {
  const status = useCall("bench.status", {});
  const { data } = status;
  return (
    <Panel title="Linefall" lead="A workstation for the microscopist who measures with an eyepiece reticle.">
      <CallNotice calls={[status]} waiting="Asking the program …" />
      {data ? (
        <Facts
          facts={[
            ["Version", data.program.version],
            ["Runs in", HOSTS[data.program.host]],
            ["Database", data.databasePath],
            ["Bench", data.demo ? "invented demo data: not for reporting" : "your own records"],
            [
              "Keeps",
              "Every reading as typed, every change with its reason. Nothing is sent anywhere: the program works without a network.",
            ],
          ]}
        />
      ) : null}
    </Panel>
  );
}
