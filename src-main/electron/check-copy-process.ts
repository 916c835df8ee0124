import { copyFaults } from "../store/bench-file/backup.ts";

// Beside the service process, which goes on answering: checks the copy named on its line, says what is wrong, and ends.
process.parentPort.postMessage(copyFaults(process.argv[2] ?? ""));
process.parentPort.on("message", () => process.exit(0));
