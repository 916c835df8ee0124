import { copyFaults } from "../store/bench-file/backup.ts";

// Beside the host, which goes on answering: checks the copy named on its line, says what is wrong, and ends.
process.send?.(copyFaults(process.argv[2] ?? ""), () => process.disconnect());
