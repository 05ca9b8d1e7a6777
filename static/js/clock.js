// Clocks that run on: they are computed from the stored instant each time, never counted down, so a sleeping phone wakes right.
const pad = (number) => String(number).padStart(2, "0");

function spanned(seconds) {
  const minutes = Math.max(0, Math.ceil(seconds / 60));
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 ? `${hours} h ${minutes % 60} min` : `${hours} h`;
  return hours % 24 ? `${Math.floor(hours / 24)} days ${hours % 24} h` : `${Math.floor(hours / 24)} days`;
}

function show(element, now) {
  if (element.dataset.clock !== undefined) {
    element.textContent = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: element.dataset.zone }).format(now);
  } else if (element.dataset.until !== undefined) {
    const left = (Date.parse(element.dataset.until) - now) / 1000;
    element.textContent = left > 0 ? `in ${spanned(left)}` : left > -60 ? "now" : `${spanned(-left)} ago`;
  } else {
    const run = Math.max(0, (now - Date.parse(element.dataset.since)) / 60000 + Number(element.dataset.before || 0));
    element.textContent = `${Math.floor(run / 60)}:${pad(Math.floor(run % 60))}`;
  }
}

function tick() {
  const now = Date.now();
  document.querySelectorAll("[data-clock], [data-until], [data-since]").forEach((element) => show(element, now));
}

tick();
setInterval(tick, 1000);
document.addEventListener("visibilitychange", tick);
