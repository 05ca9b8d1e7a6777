// Rows put in order by dragging their grip, by Alt with the arrow keys, or by their buttons. Each move is kept at once,
// one after the other, as "before which row". Without this file the buttons post the same.
let sending = Promise.resolve();
let waiting = 0;
const said = document.querySelector("[data-reorder-said]");

function say(text) {
  if (said) said.textContent = text;
}

async function send(address, body) {
  try {
    const answer = await fetch(address, { method: "POST", body, redirect: "manual", keepalive: true });
    if (answer.type !== "opaqueredirect" && !answer.ok) location.reload();
  } catch {
    say("No connection: the new order is not kept yet. Load the page again when it is back.");
  }
}

function keep(row) {
  const form = row.querySelector("form");
  const body = new FormData(form);
  body.delete("direction");
  body.set("before", row.nextElementSibling?.dataset.reorderRow ?? "");
  const rows = [...row.parentElement.children];
  say(`${row.dataset.reorderName}: ${rows.indexOf(row) + 1} of ${rows.length}`);
  const list = row.parentElement;
  waiting += 1;
  list.dataset.reorder = "keeping";
  sending = sending.then(() => send(form.action, body)).then(() => {
    waiting -= 1;
    if (!waiting) list.dataset.reorder = "kept";
  });
}

// The other row is moved, never this one: it would lose the focus and the finger that holds it.
function step(row, direction) {
  const other = direction < 0 ? row.previousElementSibling : row.nextElementSibling;
  if (!other) return false;
  if (direction < 0) row.after(other);
  else row.before(other);
  return true;
}

function drag(row, grip, begin) {
  let moved = false;
  grip.setPointerCapture(begin.pointerId);
  row.classList.add("held");
  const follow = ({ clientY }) => {
    for (const direction of [-1, 1]) {
      const other = direction < 0 ? row.previousElementSibling : row.nextElementSibling;
      const middle = other && other.getBoundingClientRect().top + other.getBoundingClientRect().height / 2;
      if (other && (direction < 0 ? clientY < middle : clientY > middle)) moved = step(row, direction);
    }
  };
  const drop = () => {
    grip.removeEventListener("pointermove", follow);
    row.classList.remove("held");
    if (moved) keep(row);
  };
  grip.addEventListener("pointermove", follow);
  grip.addEventListener("lostpointercapture", drop, { once: true });
}

for (const list of document.querySelectorAll("[data-reorder]")) {
  list.addEventListener("keydown", (event) => {
    const direction = { ArrowUp: -1, ArrowDown: 1 }[event.key];
    const row = event.target.closest("[data-reorder-row]");
    if (!event.altKey || !direction || !row) return;
    event.preventDefault();
    if (step(row, direction)) keep(row);
  });
  list.addEventListener("submit", (event) => {
    const row = event.target.closest("[data-reorder-row]");
    event.preventDefault();
    if (step(row, event.target.elements.direction.value === "up" ? -1 : 1)) keep(row);
  });
  for (const grip of list.querySelectorAll("[data-reorder-grip]")) {
    grip.addEventListener("pointerdown", (event) => drag(grip.closest("[data-reorder-row]"), grip, event));
  }
}
