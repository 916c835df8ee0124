import { foundation } from "./0010-foundation.ts";
import { measuring } from "./0020-measuring.ts";
import { traceability } from "./0030-traceability.ts";
import { tallying } from "./0040-tallies.ts";
import { trendTolerance } from "./0050-trend-tolerance.ts";
import { readIn } from "./0060-read-in.ts";
import { coverAndPlace } from "./0070-cover-and-place.ts";
import { assessments } from "./0080-assessments.ts";
import { countTrainCautions } from "./0090-count-train-cautions.ts";
import { checkWithdrawal } from "./0100-check-withdrawal.ts";
import { customer } from "./0110-customer.ts";
import { decimalCounts } from "./0130-decimal-counts.ts";
import { pinResets } from "./0140-pin-resets.ts";
import { categoryLists } from "./0170-category-lists.ts";
import { practice } from "./0180-practice.ts";
import { practiceCertificates } from "./0230-practice-certificates.ts";
import { practiceClasses } from "./0240-practice-classes.ts";
import { repeatedReadings } from "./0250-repeated-readings.ts";
import { practiceWithdrawals } from "./0260-practice-withdrawals.ts";
import { trailStoredOnce } from "./0270-trail-stored-once.ts";
import { rowsByNumber } from "./0280-rows-by-number.ts";
import { ownSettings } from "./0290-own-settings.ts";
import { peopleSetAside } from "./0330-people-set-aside.ts";
import { cellVolumes } from "./0340-cell-volumes.ts";
import { picturesAndPlaces } from "./0360-pictures-and-places.ts";
import { overdueUses } from "./0370-overdue-uses.ts";
import { testedAmount } from "./0390-tested-amount.ts";
import { opticsAsTheyAre } from "./0400-optics-as-they-are.ts";
import { lentEyepieces } from "./0410-lent-eyepieces.ts";
import { convertedElsewhere } from "./0450-converted-elsewhere.ts";
import { picturesOfFields } from "./0460-pictures-of-fields.ts";
import { controlSamples } from "./0470-control-samples.ts";
import type { Migration } from "./migration.ts";

/** Every step, in order. Add the next one at the end. */
export const ALL_MIGRATIONS: readonly Migration[] = [
  foundation,
  measuring,
  traceability,
  tallying,
  trendTolerance,
  readIn,
  coverAndPlace,
  assessments,
  countTrainCautions,
  checkWithdrawal,
  customer,
  decimalCounts,
  pinResets,
  categoryLists,
  practice,
  practiceCertificates,
  practiceClasses,
  repeatedReadings,
  practiceWithdrawals,
  trailStoredOnce,
  rowsByNumber,
  ownSettings,
  peopleSetAside,
  cellVolumes,
  picturesAndPlaces,
  overdueUses,
  testedAmount,
  opticsAsTheyAre,
  lentEyepieces,
  convertedElsewhere,
  picturesOfFields,
  controlSamples,
];
