/**
 * Loaded before a service process under plain Node: `process.parentPort` as Electron's utility process has it, over the
 * line to the parent. Messages are cloned by the same algorithm, and wait until somebody listens.
 */
Object.defineProperty(process, "parentPort", {
  value: {
    postMessage: (message: unknown) => process.send?.(message),
    on(_event: "message", listener: (event: { data: unknown }) => void) {
      process.on("message", (data) => listener({ data }));
    },
  },
});
// A utility process ends with the process that began it.
process.on("disconnect", () => process.exit(1));
