// Rings when a wait ends while the page is open. Browsers let a page sound only after a tap on it, so the button is that tap.
const button = () => document.querySelector("[data-sound]");
const says = () => document.querySelector("[data-sound-says]");
const TIMES = 4;
const EVERY = 2500;
const title = document.title;
let audio = null;

function tone(at, pitch) {
  const oscillator = new OscillatorNode(audio, { frequency: pitch, type: "sine" });
  const loudness = new GainNode(audio, { gain: 0 });
  oscillator.connect(loudness).connect(audio.destination);
  loudness.gain.setValueAtTime(0, at);
  loudness.gain.linearRampToValueAtTime(0.35, at + 0.12);
  loudness.gain.exponentialRampToValueAtTime(0.001, at + 1.1);
  oscillator.start(at);
  oscillator.stop(at + 1.2);
}

function ring() {
  if (!audio) return;
  for (let time = 0; time < TIMES; time += 1) {
    const at = audio.currentTime + (time * EVERY) / 1000;
    tone(at, 660);
    tone(at + 0.35, 880);
  }
}

function show() {
  if (!button()) return;
  button().hidden = typeof AudioContext === "undefined";
  button().textContent = audio ? "Sound is on" : "Sound on";
  button().setAttribute("aria-pressed", audio ? "true" : "false");
  says().hidden = !audio;
}

function toggle() {
  if (audio) {
    audio.close();
    audio = null;
  } else {
    audio = new AudioContext();
    audio.resume();
    tone(audio.currentTime, 660);
  }
  show();
}

// Once for each end, in this tab: not again after the page was loaded anew.
function isNew(end) {
  const key = `rang:${end}`;
  if (sessionStorage.getItem(key)) return false;
  sessionStorage.setItem(key, "yes");
  return true;
}

function watch() {
  for (const wait of document.querySelectorAll("[data-alarm]")) {
    if (Date.parse(wait.dataset.ends) > Date.now() || wait.classList.contains("over")) continue;
    wait.classList.add("over");
    if (!isNew(wait.dataset.alarm)) continue;
    document.title = `● ${wait.dataset.says}`;
    ring();
    dispatchEvent(new CustomEvent("wait-over"));
  }
}

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-sound]")) toggle();
  else document.title = title;
});
addEventListener("refreshed", show);
show();
watch();
setInterval(watch, 1000);
document.addEventListener("visibilitychange", watch);
