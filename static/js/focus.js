// After a form came back, the list of what is wrong gets the focus.
document.querySelector("[data-focus]")?.focus();
