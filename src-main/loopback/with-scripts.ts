import type { BuiltFiles } from "../ports/built-files.ts";

const tagOf = (script: string): string => `<script type="module" src="${script}"></script>`;

/**
 * The built window with scripts of this host, of which the window itself knows nothing: one before its own that leads
 * whoever has not entered to `/enter`, and, for a host that ends with its window, one that holds a request open while the
 * window lives.
 */
export function withScripts(files: BuiltFiles, { presence }: { readonly presence: boolean }): BuiltFiles {
  const page = files.get("/index.html");
  if (page === undefined) return files;
  const html = page.body
    .toString("utf8")
    .replace("<head>", `<head>${tagOf("/known-window.js")}`)
    .replace("</head>", presence ? `${tagOf("/presence.js")}</head>` : "</head>");
  return new Map(files).set("/index.html", { ...page, body: Buffer.from(html) });
}
