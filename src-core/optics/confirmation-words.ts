import type { Eyes } from "../contract/records/eyes.ts";
import type { TrainConfirmation } from "../contract/records/sheet.ts";
import { trueMinus } from "../quantity/printed-number.ts";

const GLASSES_WORDS = { with: "with glasses", without: "without glasses", "not said": "" } as const;

/** `dioptre −1.5, sleeve 160 mm, without glasses`; empty where nothing was said. */
export function eyesWords({ dioptre, sleeve, glasses }: Eyes): string {
  const parts = [
    dioptre === "" ? "" : `dioptre ${trueMinus(dioptre)}`,
    sleeve === "" ? "" : `sleeve ${sleeve} mm`,
    GLASSES_WORDS[glasses],
  ];
  return parts.filter((part) => part !== "").join(", ");
}

/** What the person said of head and eyes when confirming a train; empty where nothing was said. */
export function confirmationWords({ interpupillary, eyes }: TrainConfirmation): string {
  const parts = [
    interpupillary === "" ? "" : `interpupillary ${interpupillary} mm`,
    eyes ? eyesWords(eyes) : "",
  ];
  return parts.filter((part) => part !== "").join(", ");
}
