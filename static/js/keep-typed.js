// Text typed into a form marked data-keep outlives a lost connection or a page that was left by mistake.
const place = (form) => `typed:${location.pathname}:${form.getAttribute("action") || ""}`;
const fields = (form) => [...form.elements].filter((field) => field.matches("textarea, input[type=text], input:not([type])"));

for (const form of document.querySelectorAll("form[data-keep]")) {
  const kept = JSON.parse(sessionStorage.getItem(place(form)) || "{}");
  for (const field of fields(form)) if (kept[field.name] && !field.value) field.value = kept[field.name];
  form.addEventListener("input", () => {
    sessionStorage.setItem(place(form), JSON.stringify(Object.fromEntries(fields(form).map((field) => [field.name, field.value]))));
  });
  form.addEventListener("submit", () => sessionStorage.removeItem(place(form)));
}

// Whoever signs out leaves nothing typed behind for the next at this device.
document.addEventListener("submit", (event) => {
  if (["/sign-out", "/sign-ins/delete"].includes(new URL(event.target.action).pathname)) sessionStorage.clear();
});
