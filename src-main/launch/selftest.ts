import { ALL_CASES } from "#core/selftest/all-cases.ts";
import { selftestCommand } from "./selftest-command.ts";

/* `npm run selftest`: every published, computed and recalled value against this program, on this machine. */
process.exitCode = selftestCommand(ALL_CASES, (text) => process.stdout.write(text));
