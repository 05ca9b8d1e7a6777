// The part of the page that shows the present is fetched anew when a wait ends, when the phone wakes, and every few
// minutes; never while somebody is typing or has something open.
const EVERY = 4 * 60 * 1000;
let last = Date.now();

const part = () => document.querySelector("[data-refresh]");
const isBusy = () => !part() || part().querySelector("details[open], form[data-sent]") || [...part().querySelectorAll("textarea, input[type=text]")].some((field) => field.value) || part().contains(document.activeElement);

async function refresh() {
  if (document.hidden || isBusy()) return;
  last = Date.now();
  try {
    const answer = await fetch(location.pathname + location.search, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-refresh]");
    if (fresh && !isBusy()) part().replaceChildren(...fresh.childNodes);
    dispatchEvent(new CustomEvent("refreshed"));
  } catch {
    // no network in the shop just now: the clocks run on from the instants they have
  }
}

addEventListener("wait-over", () => setTimeout(refresh, 1500));
document.addEventListener("visibilitychange", () => {
  if (Date.now() - last > 60000) refresh();
});
setInterval(() => {
  if (Date.now() - last > EVERY) refresh();
}, 30000);
