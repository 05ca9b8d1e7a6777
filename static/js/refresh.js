// The part of the page that shows the present is fetched anew when a wait ends, when the phone wakes, and every few
// minutes; never while somebody is typing or has something open.
const EVERY = 4 * 60 * 1000;
let last = Date.now();

const part = () => document.querySelector("[data-refresh]");
const typed = () => [...part().querySelectorAll("textarea, input[type=text]")].some((field) => field.value);
const BUSY = "details[open], form[data-sent], :is(textarea, input, select):focus, :focus-visible:not([data-sound])";
const isBusy = () => !part() || part().querySelector(BUSY) || typed();

async function refresh() {
  if (document.hidden || isBusy()) return;
  last = Date.now();
  try {
    const answer = await fetch(location.pathname + location.search, { headers: { Accept: "text/html" } });
    if (!answer.ok || answer.redirected) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("[data-refresh]");
    if (!fresh || isBusy()) return;
    const held = part().querySelector("[data-sound]:focus");
    part().replaceChildren(...fresh.childNodes);
    if (held) part().querySelector("[data-sound]")?.focus();
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
