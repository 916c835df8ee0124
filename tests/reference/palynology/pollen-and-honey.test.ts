import {
  AIRBORNE_COUNTS,
  ERDTMAN_CLASSES,
  HONEY_CLASSES,
  MARKER_COUNTS,
} from "#core/selftest/cases/pollen-and-honey.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Marker spores", MARKER_COUNTS);
checkCases("Airborne pollen", AIRBORNE_COUNTS);
checkCases("Honey classes", HONEY_CLASSES);
checkCases("Pollen shape and size classes", ERDTMAN_CLASSES);
