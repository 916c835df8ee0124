import type { CalibrationRecord, CalibrationSummary } from "#core/contract/records/calibration.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownDay } from "../../parts/bench-words/instant.ts";
import { today } from "../../parts/bench-words/today.ts";
import { ChoiceField } from "../../parts/form/ChoiceField.tsx";
import { FormFrame } from "../../parts/form/FormFrame.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { useForm } from "../../parts/form/use-form.ts";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ScreenFrame } from "../../parts/layout/ScreenFrame.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { CalibratePartTabs } from "./CalibratePartTabs.tsx";
import styles from "./CalibrateScreen.module.css";
import { type RankedMicrometer, rankMicrometers, type TrainChoice, trainChoices } from "./train-choices.ts";

/** A draft stays open until it is put in force; more than a few are rare. */
const MOST_DRAFTS = 200;

/** Drafts to go on with, and the form that begins a calibration. */
export function BeginCalibration({ trainId }: { trainId: string | null }) {
  const overview = useCall("bench.overview", {});
  const micrometers = useCall("micrometers.list", {});
  const begun = useCall("calibrations.summaries", { state: "draft", from: 0, count: MOST_DRAFTS });
  const replacements = useCall("certificates.replacements", {});
  const error = replacements.error ?? overview.error ?? micrometers.error ?? begun.error;
  const trains = overview.data ? trainChoices(overview.data) : [];
  const drafts = begun.data?.calibrations ?? [];
  const replaced = new Set(replacements.data?.map((one) => one.certificateId));
  // A replaced certificate is kept, and not calibrated with any more.
  const usable = (micrometers.data ?? []).map((one) => ({
    ...one,
    certificates: one.certificates.filter(({ id }) => !replaced.has(id)),
  }));
  const isHere = overview.data && micrometers.data && begun.data && replacements.data;
  return (
    <ScreenFrame title="Calibrate" tabs={<CalibratePartTabs current="calibrate" trainId={trainId} />}>
      {error ? <RefusalNotice error={error} /> : null}
      {isHere && drafts.length > 0 ? <Drafts drafts={drafts} trains={trains} /> : null}
      {isHere ? <BeginForm trains={trains} micrometers={usable} trainId={trainId} /> : null}
    </ScreenFrame>
  );
}

function Drafts({
  drafts,
  trains,
}: {
  drafts: readonly CalibrationSummary[];
  trains: readonly TrainChoice[];
}) {
  const navigation = useNavigation();
  const nameOf = (draft: CalibrationSummary): string =>
    trains.find((one) => one.status.train.id === draft.trainId)?.words.split(" — ")[0] ?? "train not found";
  return (
    <Panel title="Continue a calibration" lead="Begun, and not in force yet.">
      <DataTable
        caption="Drafts"
        captionHidden
        rows={drafts}
        rowKey={(draft) => draft.id}
        empty=""
        columns={[
          { key: "train", title: "Train", cell: nameOf, names: true },
          { key: "began", title: "Begun", cell: (draft) => shownDay(draft.startedAt) },
          { key: "settings", title: "Settings", cell: (draft) => draft.settings, number: true },
          {
            key: "go",
            title: <span className={styles.hidden}>Continue</span>,
            cell: (draft) => (
              <Button
                look="quiet"
                aria-label={`Continue ${nameOf(draft)}`}
                onClick={() =>
                  navigation.go({ screen: "calibrate", trainId: draft.trainId, calibrationId: draft.id })
                }
              >
                Continue
              </Button>
            ),
          },
        ]}
      />
    </Panel>
  );
}

interface Values {
  readonly trainId: string;
  readonly micrometerId: string;
  readonly certificateId: string;
}

interface BeginFormProps {
  readonly trains: readonly TrainChoice[];
  readonly micrometers: readonly StageMicrometer[];
  readonly trainId: string | null;
}

function ranked(trains: readonly TrainChoice[], micrometers: readonly StageMicrometer[], trainId: string) {
  const choice = trains.find((one) => one.status.train.id === trainId);
  return choice ? rankMicrometers(choice, micrometers, today()) : [];
}

/** The best micrometer for a train, chosen beforehand. */
function valuesFor(trainId: string, best: RankedMicrometer | undefined): Values {
  const isUsable = best?.certificate !== undefined;
  return {
    trainId,
    micrometerId: isUsable ? best.micrometer.id : "",
    certificateId: best?.certificate?.id ?? "",
  };
}

function BeginForm({ trains, micrometers, trainId }: BeginFormProps) {
  const client = useClient();
  const navigation = useNavigation();
  // The train asked for, else the first that is not ready.
  const needy = trains.find((one) => one.status.state !== "ready") ?? trains[0];
  const first = trainId ?? needy?.status.train.id ?? "";
  const form = useForm<Values, CalibrationRecord>({
    id: `calibration.${first}`,
    what: "the choice of train and micrometer",
    initial: valuesFor(first, ranked(trains, micrometers, first)[0]),
    check: (values) => ({
      ...(values.trainId === "" ? { trainId: "is not chosen yet" } : {}),
      ...(values.micrometerId === "" ? { micrometerId: "is not chosen yet" } : {}),
    }),
    send: (values, requestId) =>
      client("calibrations.begin", {
        requestId,
        calibration: {
          trainId: values.trainId,
          stageMicrometerId: values.micrometerId,
          certificateId: values.certificateId,
        },
      }),
    root: "calibration",
    onSaved: (record) =>
      navigation.go({ screen: "calibrate", trainId: record.trainId, calibrationId: record.id }),
  });
  if (trains.length === 0 || !micrometers.some((one) => one.certificates.length > 0)) {
    return <Missing hasTrains={trains.length > 0} hasMicrometers={micrometers.length > 0} />;
  }
  const order = ranked(trains, micrometers, form.values.trainId);
  const chosen = micrometers.find((one) => one.id === form.values.micrometerId);
  return (
    <Panel
      title="Begin a calibration"
      lead="The factor of a train, in micrometres per reticle division, proven against a certified stage micrometer."
    >
      <FormFrame form={form} submit="Begin" label="Begin a calibration">
        <SelectField
          {...form.bind("trainId", "Optical train")}
          autoFocus
          choices={trains.map((one) => ({ value: one.status.train.id, words: one.words }))}
          onChange={(id) => form.change(() => valuesFor(id, ranked(trains, micrometers, id)[0]))}
        />
        <ChoiceField
          {...form.bind("micrometerId", "Stage micrometer")}
          hint="In the order of advice for this train, the best first."
          choices={order
            .filter((one) => one.certificate)
            .map((one) => ({ value: one.micrometer.id, words: <Advice of={one} /> }))}
          onChange={(id) =>
            form.change((values) => ({
              ...values,
              micrometerId: id,
              certificateId: order.find((one) => one.micrometer.id === id)?.certificate?.id ?? "",
            }))
          }
        />
        {chosen && chosen.certificates.length > 1 ? (
          <SelectField
            {...form.bind("certificateId", "Certificate")}
            choices={chosen.certificates.map((one) => ({
              value: one.id,
              words: `${one.number}, ${one.laboratory}, ${one.calibratedOn}, due ${one.dueOn}`,
            }))}
          />
        ) : null}
      </FormFrame>
      {order.some((one) => !one.certificate) ? (
        <p className={styles.soft}>
          Without a certificate, so not to be chosen:{" "}
          {order
            .filter((one) => !one.certificate)
            .map((one) => one.micrometer.name)
            .join(", ")}
          .
        </p>
      ) : null}
    </Panel>
  );
}

function Advice({ of: { micrometer, certificate, advice } }: { of: RankedMicrometer }) {
  const isOverdue = certificate !== undefined && certificate.dueOn < today();
  return (
    <span className={styles.advice}>
      <strong>
        {micrometer.name}, serial {micrometer.serial}
      </strong>
      <span>
        certificate {certificate?.number},{" "}
        {isOverdue ? (
          <strong className={styles.bad}>
            <StateMark state="bad" /> overdue since {certificate.dueOn}
          </strong>
        ) : (
          `due ${certificate?.dueOn}`
        )}
      </span>
      <span className={styles.soft}>{advice.reasons.join("; ")}.</span>
    </span>
  );
}

function Missing({ hasTrains, hasMicrometers }: { hasTrains: boolean; hasMicrometers: boolean }) {
  const navigation = useNavigation();
  return (
    <Panel
      title="Begin a calibration"
      lead="It needs a microscope with its reticle, and a stage micrometer with its certificate."
    >
      <p className={styles.answers}>
        {hasTrains ? null : (
          <Button
            onClick={() =>
              navigation.go({ screen: "registers", register: "microscopes", recordId: null, form: "new" })
            }
          >
            Register a microscope
          </Button>
        )}
        <Button
          onClick={() =>
            navigation.go({
              screen: "registers",
              register: "micrometers",
              recordId: null,
              form: hasMicrometers ? null : "new",
            })
          }
        >
          {hasMicrometers ? "Enter a certificate" : "Register a stage micrometer"}
        </Button>
      </p>
    </Panel>
  );
}
