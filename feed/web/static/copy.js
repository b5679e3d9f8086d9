// Shows each copy button, and lets it copy the field that it names. Without
// scripts the field can still be selected by hand.
"use strict";

for (const button of document.querySelectorAll("button[data-copy]")) {
  const field = document.getElementById(button.dataset.copy);
  const status = button.parentElement.querySelector("[role=status]");
  button.hidden = false;
  field.addEventListener("focus", () => field.select());
  button.addEventListener("click", async () => {
    status.textContent = (await copied(field)) ? "Copied." : "Press and hold the address to copy it.";
  });
}

// copied copies the text of a field. The clipboard is closed to pages over
// plain http, where browsers still take the old command.
async function copied(field) {
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    field.select();
    return document.execCommand("copy");
  }
}
