import { useEffect, useState } from "react";
import { useCall } from "../../bridge/use-call.ts";
import { today } from "../../parts/bench-words/today.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { CalibratePartTabs } from "./CalibratePartTabs.tsx";
import { QuickCheck, type UsableCertificate } from "./QuickCheck.tsx";
import { rankMicrometers, type TrainChoice, trainChoices } from "./train-choices.ts";

/** Checks: the choice of a train, and the quick check of its factor. */
export function CheckScreen({ trainId }: { trainId: string | null }) {
  const navigation = useNavigation();
  const overview = useCall("bench.overview", {});
  const micrometers = useCall("micrometers.list", {});
  const replacements = useCall("certificates.replacements", {});
  const trains = overview.data ? trainChoices(overview.data) : [];
  const needy = trains.find((one) => one.status.state === "check before use") ?? trains[0];
  // The train stays the one that was shown, though a check or a withdrawal may end its need of one.
  const [shownId, setShownId] = useState<string | null>(null);
  const chosenId = trainId ?? shownId;
  const choice = trains.find((one) => one.status.train.id === chosenId) ?? needy;
  const nowShown = choice?.status.train.id ?? null;
  useEffect(() => setShownId(nowShown), [nowShown]);
  const replaced = new Set(replacements.data?.map((one) => one.certificateId));
  return (
    <ScreenFrame title="Calibrate" tabs={<CalibratePartTabs current="check" trainId={trainId} />}>
      <CallNotice calls={[overview, micrometers, replacements]} waiting="Reading the bench …" />
      {choice ? (
        <Panel title="Optical train">
          <SelectField
            id="check-train"
            label="Optical train"
            value={choice.status.train.id}
            autoFocus
            choices={trains.map((one) => ({ value: one.status.train.id, words: one.words }))}
            onChange={(id) =>
              navigation.replace({ screen: "calibrate", trainId: id, calibrationId: null, check: true })
            }
          />
        </Panel>
      ) : null}
      {choice && micrometers.data && replacements.data ? (
        <QuickCheck
          key={choice.status.train.id}
          choice={choice}
          certificates={usable(choice, micrometers.data, replaced)}
        />
      ) : null}
    </ScreenFrame>
  );
}

/** Certificates not replaced: first the one of the calibration in force, then by the adviser's order. */
function usable(
  choice: TrainChoice,
  micrometers: Parameters<typeof rankMicrometers>[1],
  replaced: ReadonlySet<string>,
): readonly UsableCertificate[] {
  const own = choice.status.inForce?.certificateId;
  return rankMicrometers(choice, micrometers, today())
    .flatMap(({ micrometer }) =>
      micrometer.certificates
        .filter((one) => !replaced.has(one.id))
        .map((one) => ({
          stageMicrometerId: micrometer.id,
          certificateId: one.id,
          words: `${micrometer.name}, serial ${micrometer.serial}, certificate ${one.number}${one.dueOn < today() ? ", overdue" : ""}`,
        })),
    )
    .sort((a, b) => Number(b.certificateId === own) - Number(a.certificateId === own));
}
