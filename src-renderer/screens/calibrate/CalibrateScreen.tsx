import { useEffect, useState } from "react";
import { basisOf } from "#core/calibration/calculation-basis.ts";
import type { Client } from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { BeginCalibration } from "./BeginCalibration.tsx";
import { CalibrationAtWork } from "./CalibrationAtWork.tsx";
import { CheckScreen } from "./CheckScreen.tsx";
import type { CalibrationContext } from "./calibration-preview.ts";

export interface CalibrateScreenProps {
  readonly trainId: string | null;
  readonly calibrationId: string | null;
  /** The quick check instead. */
  readonly check?: boolean;
}

/** Calibrate: the choice of train and micrometer, or the calibration under way. */
export function CalibrateScreen({ trainId, calibrationId, check = false }: CalibrateScreenProps) {
  if (check) return <CheckScreen trainId={trainId} />;
  return calibrationId === null ? (
    <BeginCalibration key={trainId} trainId={trainId} />
  ) : (
    <OpenCalibration key={calibrationId} calibrationId={calibrationId} />
  );
}

type Opened =
  | { readonly state: "fetching" }
  | { readonly state: "refused"; readonly error: CallError }
  | { readonly state: "open"; readonly context: CalibrationContext };

function OpenCalibration({ calibrationId }: { calibrationId: string }) {
  const client = useClient();
  const [opened, setOpened] = useState<Opened>({ state: "fetching" });
  useEffect(() => {
    let isWanted = true;
    void loadCalibration(client, calibrationId).then((loaded) => {
      if (isWanted) setOpened(loaded);
    });
    return () => {
      isWanted = false;
    };
  }, [client, calibrationId]);

  if (opened.state === "open") {
    return (
      <CalibrationAtWork
        key={opened.context.record.state}
        context={opened.context}
        onChanged={(record) => setOpened({ ...opened, context: { ...opened.context, record } })}
      />
    );
  }
  return (
    <ScreenFrame title="Calibrate">
      {opened.state === "fetching" ? (
        <p role="status">Fetching the calibration …</p>
      ) : (
        <RefusalNotice error={opened.error} />
      )}
    </ScreenFrame>
  );
}

const GONE: CallError = {
  code: "calibration.unknown",
  message: "The train or micrometer of this calibration is not in the registers.",
  hint: "Look at Records, Verify: the bench may be damaged.",
};

async function loadCalibration(client: Client, calibrationId: string): Promise<Opened> {
  const [calibration, overview, micrometers] = await Promise.all([
    client("calibrations.get", { calibrationId }),
    client("bench.overview", {}),
    client("micrometers.list", {}),
  ]);
  for (const reply of [calibration, overview, micrometers]) {
    if (!reply.ok) return { state: "refused", error: reply.error };
  }
  if (!calibration.ok || !overview.ok || !micrometers.ok) return { state: "refused", error: GONE };
  const record = calibration.value;
  const micrometer = micrometers.value.find((one) => one.id === record.stageMicrometerId);
  const certificate = micrometer?.certificates.find((one) => one.id === record.certificateId);
  const found = overview.value.microscopes.flatMap(({ microscope, trains }) =>
    trains.filter((status) => status.train.id === record.trainId).map((status) => ({ microscope, status })),
  )[0];
  const objective = found?.microscope.objectives.find((one) => one.id === found.status.train.objectiveId);
  if (!micrometer || !certificate || !found || !objective) return { state: "refused", error: GONE };
  const { inForce, train } = found.status;
  const { personId } = record;
  const pooled = await client("calibrations.repeatability", { personId });
  const scatters = await client("calibrations.scatters", { personId });
  if (!pooled.ok) return { state: "refused", error: pooled.error };
  if (!scatters.ok) return { state: "refused", error: scatters.error };
  return {
    state: "open",
    context: {
      record,
      train,
      microscope: found.microscope,
      objective,
      micrometer,
      certificate,
      earlier: inForce?.id === record.id ? null : inForce,
      basis: record.result ? basisOf(record.result) : { rule: 2, pooled: pooled.value },
      scatters: scatters.value,
    },
  };
}
