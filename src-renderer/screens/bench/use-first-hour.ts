import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { useCall } from "../../bridge/use-call.ts";
import type { Location } from "../../window/location.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import { firstSteps } from "./first-steps.ts";

/**
 * Leads on from step to step while the bench has no sheet yet: what has been saved opens the step that is next. Later, and
 * once every step is done, what is saved is shown as usual.
 */
export function useFirstHour() {
  const client = useClient();
  const navigation = useNavigation();
  const overview = useCall("bench.overview", {}).data;
  const isFirstHour = overview !== undefined && overview.counts.sheets === 0;
  /** The first step that is open once `done` is; null: it is not the first hour, or all is done. */
  const placeAfter = (done: string, micrometerId: string | null): Location | null => {
    const steps = isFirstHour ? firstSteps(overview, micrometerId) : [];
    return steps.find((step) => !step.done && step.key !== done)?.go ?? null;
  };
  const leadOn = (done: string, usual: () => void, micrometerId: string | null = null): void => {
    const place = placeAfter(done, micrometerId);
    if (place) navigation.go(place);
    else usual();
  };
  /** With the first certificate the first train can be calibrated: there is nothing to choose yet. */
  const beginCalibration = async (certificate: Certificate, usual: () => void): Promise<void> => {
    const place = placeAfter("certificate", certificate.stageMicrometerId);
    if (place?.screen !== "calibrate") {
      leadOn("certificate", usual, certificate.stageMicrometerId);
      return;
    }
    const [train, ...others] = overview?.microscopes.flatMap(({ trains }) => trains) ?? [];
    const begun =
      train && others.length === 0
        ? await client("calibrations.begin", {
            requestId: newRequestId(),
            calibration: {
              trainId: train.train.id,
              stageMicrometerId: certificate.stageMicrometerId,
              certificateId: certificate.id,
            },
          })
        : null;
    navigation.go(
      begun?.ok
        ? { screen: "calibrate", trainId: begun.value.trainId, calibrationId: begun.value.id }
        : place,
    );
  };
  return { leadOn, beginCalibration };
}
