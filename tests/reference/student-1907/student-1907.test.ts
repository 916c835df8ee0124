import { STUDENT_YEAST } from "#core/selftest/cases/student-1907.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("“Student” 1907: yeast cells on 400 squares", STUDENT_YEAST);
