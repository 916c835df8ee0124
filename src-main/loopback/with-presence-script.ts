import type { BuiltFiles } from "../ports/built-files.ts";

/**
 * The built window with one more script, which holds a request open while the window lives. The window itself knows
 * nothing of it: only a host that ends with its window serves it so.
 */
export function withPresenceScript(files: BuiltFiles): BuiltFiles {
  const page = files.get("/index.html");
  if (page === undefined) return files;
  const html = page.body
    .toString("utf8")
    .replace("</head>", '<script type="module" src="/presence.js"></script></head>');
  return new Map(files).set("/index.html", { ...page, body: Buffer.from(html) });
}
