import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const root = fileURLToPath(new URL("..", import.meta.url));

/** One runner for everything below the browser; `npm test` runs it twice, the second time in another zone and locale. */
export default defineConfig({
  root,
  test: {
    // Without this a machine of two cores has one at work: vitest leaves one out.
    maxWorkers: "100%",
    projects: [
      {
        root,
        test: {
          name: "core",
          environment: "node",
          // Pure functions: nothing that one file of tests could leave to the next.
          isolate: false,
          testTimeout: 30_000,
          include: ["tests/core/**/*.test.ts", "tests/reference/**/*.test.ts", "tests/contract/**/*.test.ts"],
        },
      },
      {
        root,
        test: {
          name: "main",
          environment: "node",
          include: [
            "tests/main/**/*.test.ts",
            "tests/workbook/**/*.test.ts",
            "tests/boundaries/**/*.test.ts",
          ],
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
      {
        root,
        test: {
          name: "renderer",
          // A test that touches a document says so in its first line.
          environment: "node",
          testTimeout: 30_000,
          include: ["tests/renderer/**/*.test.ts", "tests/renderer/**/*.test.tsx"],
        },
      },
      {
        root,
        test: {
          name: "faults",
          environment: "node",
          include: ["tests/faults/**/*.test.ts"],
          testTimeout: 240_000,
          hookTimeout: 120_000,
        },
      },
    ],
  },
});
