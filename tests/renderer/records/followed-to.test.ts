import { expect, it } from "vitest";
import { followedBefore, rememberFollowed } from "#renderer/screens/records/followed-to.ts";

function memory() {
  const kept = new Map<string, string>();
  const storage = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, text: string) => void kept.set(key, text),
  };
  return { storage, page: { cookie: "" } };
}

const HEAD = `412:${"9f".repeat(32)}`;
const followed = { bench: "/bench/bench.sqlite", head: HEAD, at: "2026-03-02T09:00:00.000Z" };

it("remembers the line of one bench, and offers it for no other", () => {
  const here = memory();
  expect(followedBefore(followed.bench, here)).toBeNull();
  rememberFollowed(followed, here);
  expect(followedBefore(followed.bench, here)).toEqual(followed);
  expect(followedBefore("/another/bench.sqlite", here)).toBeNull();
});

it.each([
  ["no record", "412"],
  ["no hash", JSON.stringify({ ...followed, head: "412" })],
  ["half", '{"bench":'],
])("takes nothing that another program wrote: %s", (_, text) => {
  const here = memory();
  here.storage.setItem("linefall.followed-to", text);
  expect(followedBefore(followed.bench, here)).toBeNull();
});
