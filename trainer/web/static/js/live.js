// Comfort only: a page with a part that changes is read again every few seconds while somebody looks at it, and that part
// is put anew. Where the part has another state, or is gone, the whole page is loaded again.
"use strict";

const live = document.querySelector("[data-live]");

async function readAgain() {
  if (document.hidden) return;
  const lost = document.querySelector("[data-live-lost]");
  try {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) throw new Error(answer.statusText);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    putAnew(page.querySelector("[data-live]"));
    if (lost) lost.hidden = true;
  } catch {
    if (lost) lost.hidden = false;
  }
}

function putAnew(fresh) {
  if (fresh?.dataset.live !== live.dataset.live) location.reload();
  else if (fresh.innerHTML !== live.innerHTML) {
    const held = live.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
    live.replaceChildren(...fresh.childNodes);
    if (held) live.querySelector(`[href="${CSS.escape(held)}"]`)?.focus({ preventScroll: true });
  }
}

if (live) {
  setInterval(readAgain, Number(live.dataset.every) * 1000);
  document.addEventListener("visibilitychange", readAgain);
}
