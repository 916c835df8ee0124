/** Which folder may import which. tests/boundaries plants one violation per rule and expects each to fire. */
const only = (name, path, allowed, comment) => ({
  name,
  comment,
  severity: "error",
  from: { path: "^src-", pathNot: allowed },
  to: { path },
});

export default {
  forbidden: [
    { name: "no-cycles", severity: "error", from: { path: "^src-" }, to: { circular: true } },
    {
      name: "no-folder-cycles",
      comment: "folders next to each other; tests/boundaries/folder-cycles.test.ts holds every level",
      severity: "error",
      scope: "folder",
      from: { path: "^src-" },
      to: { circular: true },
    },
    {
      name: "contract-knows-no-domain",
      comment: "the contract takes its words from the vocabulary and its numbers from quantity",
      severity: "error",
      from: { path: "^src-core/contract/" },
      to: { path: "^src-core/(?!contract/|vocabulary/|quantity/)" },
    },
    {
      name: "vocabulary-knows-nothing",
      severity: "error",
      from: { path: "^src-core/vocabulary/" },
      to: { path: "^src-core/(?!vocabulary/)" },
    },
    {
      name: "file-formats-know-no-service",
      severity: "error",
      from: { path: "^src-main/(workbook|exchange)/" },
      to: { path: "^src-main/services/" },
    },
    {
      name: "parts-know-no-screen",
      comment: "what several screens share does not know the screens, nor the shell around them",
      severity: "error",
      from: { path: "^src-renderer/(parts|window|bridge)/" },
      to: { path: "^src-renderer/(app|screens)/" },
    },
    {
      name: "core-is-pure",
      comment: "src-core imports neither main nor renderer",
      severity: "error",
      from: { path: "^src-core" },
      to: { path: "^src-(main|renderer)" },
    },
    {
      name: "core-has-no-node",
      severity: "error",
      from: { path: "^src-core" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "renderer-meets-main-through-the-contract",
      severity: "error",
      from: { path: "^src-renderer" },
      to: { path: "^src-main" },
    },
    {
      name: "main-meets-renderer-through-the-contract",
      severity: "error",
      from: { path: "^src-main" },
      to: { path: "^src-renderer" },
    },
    {
      name: "services-know-no-host",
      severity: "error",
      from: { path: "^src-main/(services|store|workbook|dispatch|ports|demo)/" },
      to: { path: "^src-main/(electron|loopback|launch)/" },
    },
    {
      name: "store-knows-no-service",
      severity: "error",
      from: { path: "^src-main/store/" },
      to: { path: "^src-main/(services|dispatch|workbook)/" },
    },
    {
      name: "dispatch-knows-no-service",
      severity: "error",
      from: { path: "^src-main/dispatch/" },
      to: { path: "^src-main/(services|store|workbook)/" },
    },
    {
      name: "electron-without-loopback",
      comment: "the packaged application must not contain the loopback host",
      severity: "error",
      from: { path: "^src-main/electron/" },
      to: { path: "^src-main/(loopback|launch)/" },
    },
    {
      name: "the-window-process-does-no-services",
      comment: "whatever it runs itself holds the window: the services run in the service process",
      severity: "error",
      from: {
        path: "^src-main/electron/",
        pathNot: "^src-main/electron/(serve-bench|service-process)\\.ts$",
      },
      to: {
        path: "^src-main/((services|store|workbook|exchange|dispatch|demo)/|(assemble|open-or-recover|program)\\.ts)",
      },
    },
    {
      name: "the-service-process-runs-anywhere",
      comment: "it is given its line to the window's process, so that plain Node can run it",
      severity: "error",
      from: { path: "^src-main/electron/(serve-bench|service-process)\\.ts$" },
      to: { path: "^(node_modules/)?electron(/|$)" },
    },
    only("only-the-shell-imports-electron", "^(node_modules/)?electron(/|$)", "^src-main/electron/", ""),
    only("only-quantity-imports-decimal", "decimal\\.js", "^src-core/quantity/decimal\\.ts$", ""),
    only("only-the-store-imports-sqlite", "better-sqlite3", "^src-main/store/", ""),
    only("only-the-workbook-imports-exceljs", "exceljs", "^src-main/workbook/", ""),
    only("only-distributions-imports-stdlib", "@stdlib/", "^src-core/statistics/distributions\\.ts$", ""),
  ],
  options: {
    parser: "swc",
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    exclude: { path: "^(out|\\.cache|dist)/" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "node", "default"],
      extensions: [".ts", ".tsx", ".js", ".mjs", ".cjs", ".json"],
    },
  },
};
