/**
 * How a window of the loopback host shows that it is the program's own: by a secret in a header, which the page keeps in
 * its sessionStorage. That belongs to one origin, port included, and to one window; a cookie is shared by every port of
 * the machine. `loopback/pages` knows the same names.
 */
export const WINDOW_SESSION = { header: "x-linefall-window", storageKey: "linefall.window" } as const;
