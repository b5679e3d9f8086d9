// Shows what each line of an agreement gives while it is written: the form is
// sent to be read, and nothing of it is kept. Without scripts a button does
// the same.
"use strict";

const form = document.querySelector("form[data-read]");
const stale = form.querySelector(".stale");
const pause = 250; // ms after the last key
let waiting, reading;
form.querySelector(".bar [value=read]").hidden = true; // it happens by itself

form.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(read, pause);
});

// The back button brings what was typed, and says nothing of it.
addEventListener("pageshow", () => {
  if ([...form.elements].some((field) => "defaultValue" in field && field.value !== field.defaultValue)) read();
});

// Enter goes on to the next line, as on paper. The browser presses the form's
// first button for it, which nobody sees.
form.addEventListener("submit", (event) => {
  if (!event.submitter?.matches(".default")) return;
  event.preventDefault();
  const lines = [...form.querySelectorAll(".said input")];
  const at = lines.indexOf(document.activeElement);
  if (at >= 0) lines[at + 1]?.focus();
  read();
});

async function read() {
  reading?.abort();
  reading = new AbortController();
  try {
    const body = new URLSearchParams(new FormData(form));
    const answer = await fetch(form.dataset.read, { method: "POST", body, signal: reading.signal });
    if (!answer.ok) throw new Error(answer.status);
    show(new DOMParser().parseFromString(await answer.text(), "text/html"));
    stale.textContent = "";
  } catch (fault) {
    if (fault.name === "AbortError") return;
    stale.textContent = "What stands beside the lines is not of what you typed last: the server could not be asked.";
  }
}

// show puts each part that has changed where it belongs.
function show(part) {
  for (const now of part.querySelectorAll("body > [id], head > [id]")) {
    const was = document.getElementById(now.id);
    if (!was || was.innerHTML === now.innerHTML) continue;
    const wrong = now.querySelector(":scope > .fault") !== null;
    was.replaceChildren(...now.childNodes);
    const line = form.querySelector(`[aria-describedby="${now.id}"]`);
    line?.setAttribute("aria-invalid", wrong);
    line?.parentElement.classList.toggle("wrong", wrong);
  }
}
