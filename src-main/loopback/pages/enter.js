// Exchanges the one-time token of the address for a session and takes it out of the address at once. The session stays
// in this window's sessionStorage, which no page of another port can read or write.
const token = location.hash.slice(1);
history.replaceState(null, "", "/enter");
const message = document.querySelector("#message");
const again = "Start Linefall again: it opens a window on the same bench.";

if (token === "") {
  message.textContent = `This address carries no token. ${again}`;
} else {
  try {
    const answer = await fetch("/enter", {
      method: "POST",
      headers: { "content-type": "application/json" },
      credentials: "omit",
      body: JSON.stringify({ token }),
    });
    if (answer.ok) {
      sessionStorage.setItem("linefall.window", (await answer.json()).session);
      location.replace("/");
    } else message.textContent = `This address has been used already. ${again}`;
  } catch {
    message.textContent = `The program does not answer. ${again}`;
  }
}
