import { FIELD_SCATTER, HAEMOCYTOMETER_FIELDS } from "#core/selftest/cases/field-scatter.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("Scatter between fields and which interval to show", FIELD_SCATTER);
checkCases("Ten haemocytometer fields", HAEMOCYTOMETER_FIELDS);
