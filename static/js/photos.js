// Photos go one by one, so that a weak network loses at most one of them, and a page too large is never sent.
// The server stores the same photo once, so what was sent without an answer is simply sent again.
const form = document.querySelector("form[data-photos]");
const input = form.querySelector("input[type=file]");
const status = form.querySelector("[data-progress]");
const bar = form.querySelector("progress");
const refused = document.querySelector("[data-refused]");
const done = new Set();
const asking = [];
let busy = false;
let sent = 0;

class Trouble extends Error {} // of the server: the files are still here, and may be sent again

function say(text) {
  status.hidden = false;
  status.textContent = text;
}

function refuse(name, says) {
  const line = document.createElement("li");
  const shown = document.createElement("bdi");
  shown.textContent = name;
  line.append(shown, `: ${says}`);
  refused.querySelector("ul").append(line);
  refused.hidden = false;
}

function letter(file) {
  const data = new FormData(form);
  data.delete(input.name);
  data.append(input.name, file);
  if (sent) data.delete("cover");
  return data;
}

async function send(file) {
  const response = await fetch(location.href, { method: "POST", body: letter(file), headers: { Accept: "application/json" } });
  if (response.status === 413) return { stored: 0, asking: [], problems: [], refused: [{ name: file.name, says: (await response.json()).says }] };
  if (response.status === 503 || response.status === 507) throw new Trouble((await response.json()).says);
  if (!response.ok || !response.headers.get("Content-Type")?.startsWith("application/json")) throw new Error("page");
  return response.json();
}

async function sendAll(files) {
  let answer = null;
  for (const [index, file] of files.entries()) {
    if (done.has(file)) continue;
    if (file.size > Number(form.dataset.most)) {
      refuse(file.name, `This is ${Math.round(file.size / 1e6)} MB, more than this server takes. Send a smaller copy.`);
      done.add(file);
      continue;
    }
    say(`Sending ${index + 1} of ${files.length} …`);
    bar.hidden = false;
    bar.max = files.length;
    bar.value = index;
    answer = await send(file);
    if (answer.problems.length) throw new Error("page");
    answer.refused.forEach((one) => refuse(one.name, one.says));
    asking.push(...answer.asking);
    sent += answer.stored;
    done.add(file);
  }
  return answer;
}

function leave(answer) {
  bar.hidden = true;
  if (refused.hidden && answer) {
    location.assign(asking.length ? `${form.dataset.shift}?ids=${asking.join(",")}` : answer.location);
    return;
  }
  say(sent ? `${sent} stored. Those named above were not taken.` : "None was taken.");
  input.value = "";
  refused.scrollIntoView({ block: "center" });
}

input.addEventListener("change", () => {
  const size = [...input.files].reduce((sum, file) => sum + file.size, 0);
  say(input.files.length ? `${input.files.length} chosen, ${(size / 1e6).toFixed(1)} MB` : "");
});

form.addEventListener("submit", async (event) => {
  if (!input.files.length) return;
  event.preventDefault();
  event.stopPropagation();
  if (busy) return;
  busy = true;
  const button = form.querySelector("button");
  button.disabled = true;
  try {
    leave(await sendAll([...input.files]));
  } catch (error) {
    if (error instanceof Trouble) say(`${error.message} ${sent} stored so far. Tap again to send the rest.`);
    else if (error instanceof TypeError) say(`No connection. ${sent} stored so far. Tap again to send the rest.`);
    else form.submit(); // the page that comes back says what is wrong and keeps what was typed
  } finally {
    busy = false;
    button.disabled = false;
  }
});
