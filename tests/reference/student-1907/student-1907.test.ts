import { STUDENT_FIT, STUDENT_YEAST } from "#core/selftest/cases/student-1907.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("“Student” 1907: yeast cells on 400 squares", STUDENT_YEAST);
checkCases("“Student” 1907: fit of a Poisson distribution", STUDENT_FIT);
