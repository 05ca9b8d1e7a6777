// Minutes and seconds until an end, or since a beginning: worked out from the instant each time, so that a page that slept
// or was loaded anew shows the same.
const pad = (number) => String(number).padStart(2, "0");
const clock = (seconds) => `${Math.floor(seconds / 60)}:${pad(Math.floor(seconds % 60))}`;

function show(element) {
  if (element.dataset.countup !== undefined) {
    element.textContent = clock(Math.max(0, (Date.now() - Date.parse(element.dataset.countup)) / 1000));
    return;
  }
  const left = Math.ceil((Date.parse(element.dataset.countdown) - Date.now()) / 1000);
  element.textContent = left > 0 ? `${clock(left)} left` : `over ${clock(-left)}`;
  if (left <= 0) element.closest(".countdown")?.classList.add("over");
}

const tick = () => document.querySelectorAll("[data-countdown], [data-countup]").forEach(show);
tick();
setInterval(tick, 250);
document.addEventListener("visibilitychange", tick);
