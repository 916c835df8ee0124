import { STUDENT_SLEEP } from "#core/selftest/cases/student-sleep.ts";
import { checkCases } from "../../support/check-cases.ts";

checkCases("‘Student’ 1908, sleep data", STUDENT_SLEEP);
