import { serveBench } from "./serve-bench.ts";

// The process that keeps the bench: SQLite, exports, verify and backups run here, beside the window's process, which
// tells this one when to end. A signal meant for the whole program must not end it before the bench has been closed.
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => {});

serveBench(process.parentPort, (code) => process.exit(code));
